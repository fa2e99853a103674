/** Names, numbers and lists inside a statement. */

/** A name as it can stand between others: in quotation marks where it holds one of the signs that part them. */
export function quoted(name: string): string {
  return /[:,/"]|\s(?:on|bar)(?=\s|$)|^all$/iu.test(name) ? JSON.stringify(name) : name;
}

/** A name as it was written, without its quotation marks. */
export function unquoted(text: string): string {
  const plain = text.trim();
  if (!/^".*"$/u.test(plain)) return plain;
  try {
    return String(JSON.parse(plain));
  } catch {
    return plain.slice(1, -1);
  }
}

/** A piece of a text with its place. */
export interface Part {
  readonly text: string;
  /** Offset in the whole. */
  readonly at: number;
}

/** The parts of a text between signs, quotation marks respected; blanks around them taken off. */
export function partsOf(text: string, sign: string): readonly Part[] {
  const parts: Part[] = [];
  let start = 0;
  let open = false;
  for (let i = 0; i <= text.length; i++) {
    const c = text[i];
    if (c === '"' && text[i - 1] !== "\\") open = !open;
    if (i < text.length && (open || c !== sign)) continue;
    const raw = text.slice(start, i);
    parts.push({ text: raw.trim(), at: start + (raw.length - raw.trimStart().length) });
    start = i + 1;
  }
  return parts;
}

export const isNumber = (text: string): boolean => /^[+-]?\d+(?:[.,]\d+)?(?:e[+-]?\d+)?$/iu.test(text);
export const numberOf = (text: string): number => Number(text.replace(",", "."));
