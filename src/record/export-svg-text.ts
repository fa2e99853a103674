/** SVG as text, without a page: elements whose attributes and texts can hold any name. */

/** An element with its attributes; those undefined are left out. */
export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** What XML 1.0 has no place for (2.2): control characters, halves of surrogate pairs, two that aren't characters. */
const NOT_IN_XML =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** A text for use between tags or in an attribute. */
export function escaped(text: string): string {
  return text.replace(NOT_IN_XML, "").replace(/[&<>"']/g, (sign) => ESCAPES[sign] as string);
}

/** @param content markup already, as from `element` and `textElement` */
export function element(name: string, attributes: Attributes, content: readonly string[] = []): string {
  const written = Object.entries(attributes).flatMap(([key, value]) =>
    value === undefined ? [] : [` ${key}="${escaped(figure(value))}"`],
  );
  const inside = content.join("");
  return inside === "" ? `<${name}${written.join("")}/>` : `<${name}${written.join("")}>${inside}</${name}>`;
}

/** An element that holds a text. */
export function textElement(name: string, attributes: Attributes, text: string): string {
  return element(name, attributes, [escaped(text)]);
}

/** Pixels to a hundredth: no eye sees more. */
function figure(value: string | number): string {
  return typeof value === "string" ? value : String(Number(value.toFixed(2)));
}

/** Width of a letter over the size of its font: that of a wide sans-serif in bold, so that texts fit in any. */
const LETTER = 0.64;

/** About how wide a text is [px]. */
export function widthOf(text: string, sizePx: number): number {
  return LETTER * sizePx * text.length;
}

/** A text in lines no wider than asked, broken between words. */
export function wrapped(text: string, widthPx: number, sizePx: number): readonly string[] {
  const lines: string[] = [];
  for (const word of text.split(/ +/)) {
    const last = lines.at(-1);
    if (last !== undefined && widthOf(`${last} ${word}`, sizePx) <= widthPx)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}
