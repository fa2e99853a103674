/** Whether a text is well-formed XML as far as it needs to be for our own files: tags that match, attributes in quotes, entities. */

export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
}

const ENTITY = /&(?:amp|lt|gt|quot|#39);/g;
const TAG = /^<(\/?)([A-Za-z][\w:-]*)((?:\s+[\w:-]+="[^"<]*")*)\s*(\/?)>/;

/** @returns every element in order, attributes still escaped. @throws Error at the first fault, with what stands there */
export function elementsOf(xml: string): readonly XmlElement[] {
  let rest = xml;
  const open: string[] = [];
  const elements: XmlElement[] = [];
  while (rest !== "") {
    const text = /^[^<]+/.exec(rest)?.[0];
    if (text !== undefined) {
      if (/[&>]/.test(text.replace(ENTITY, ""))) throw new Error(`unescaped: ${text}`);
      if (open.length === 0 && text.trim() !== "") throw new Error(`outside of the root: ${text}`);
      rest = rest.slice(text.length);
      continue;
    }
    const [tag, closing, name = "", attributes = "", single] = TAG.exec(rest) ?? [];
    if (tag === undefined) throw new Error(`no tag: ${rest.slice(0, 60)}`);
    if (closing === "/") {
      if (open.pop() !== name) throw new Error(`closes what isn't open: ${tag}`);
    } else {
      if (open.length === 0 && elements.length > 0) throw new Error(`a second root: ${tag}`);
      const pairs = [...attributes.matchAll(/([\w:-]+)="([^"]*)"/g)].map(([, key = "", value = ""]) => [
        key,
        value,
      ]);
      if (new Set(pairs.map(([key]) => key)).size !== pairs.length)
        throw new Error(`an attribute twice: ${tag}`);
      if (pairs.some(([, value]) => /[&]/.test((value ?? "").replace(ENTITY, ""))))
        throw new Error(`unescaped: ${tag}`);
      elements.push({ name, attributes: Object.fromEntries(pairs) });
      if (single !== "/") open.push(name);
    }
    rest = rest.slice(tag.length);
  }
  if (open.length > 0) throw new Error(`left open: ${open.join(", ")}`);
  return elements;
}
