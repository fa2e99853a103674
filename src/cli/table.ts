/** Plain text for a terminal: columns that line up, paragraphs that fit, figures in the language and unit set. */
import { fixed, lengthNumber, signedFixed, signedLengthNumber } from "../words/index.ts";

/** Stands where there is no figure. */
const NONE = "-";

/** Figures stand to the right, the first column to the left; two blanks between columns. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = head.map((title, c) => Math.max(title.length, ...rows.map((row) => (row[c] ?? "").length)));
  const line = (cells: readonly string[]): string =>
    widths
      .map((width, c) => (c === 0 ? (cells[c] ?? "").padEnd(width) : (cells[c] ?? "").padStart(width)))
      .join("  ")
      .trimEnd();
  return [line(head), ...rows.map(line)].map((text) => `${text}\n`).join("");
}

/** Breaks a paragraph at blanks so that no line is longer than `width`, each line behind `indent`. A blank that doesn't break stays. */
export function paragraph(text: string, indent = "", width = 88): string {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/[^\S\u00A0\u202F]+/)) {
    if (line !== "" && indent.length + line.length + 1 + word.length > width) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  return [...lines, line].map((each) => `${indent}${each}\n`).join("");
}

/** A figure with `decimals`; a dash where there is none. */
export function figure(value: number | undefined, decimals = 0): string {
  return value === undefined ? NONE : fixed(value, decimals);
}

/** As `figure`, with its sign always written. */
export function signed(value: number | undefined, decimals = 0): string {
  return value === undefined ? NONE : signedFixed(value, decimals);
}

/** A length [m] in the unit set, without its name; a dash where there is none. @param decimals as in millimetres */
export function lengthFigure(valueM: number | undefined, decimals = 0): string {
  return valueM === undefined ? NONE : lengthNumber(valueM, decimals);
}

/** As `lengthFigure`, with its sign always written. */
export function signedLength(valueM: number | undefined, decimals = 0): string {
  return valueM === undefined ? NONE : signedLengthNumber(valueM, decimals);
}
