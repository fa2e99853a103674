/** Plain text for a terminal: columns that line up, paragraphs that fit. */

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

/** Breaks a paragraph at blanks so that no line is longer than `width`, each line behind `indent`. */
export function paragraph(text: string, indent = "", width = 88): string {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/\s+/)) {
    if (line !== "" && indent.length + line.length + 1 + word.length > width) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  return [...lines, line].map((each) => `${indent}${each}\n`).join("");
}

/** A figure with `digits` decimals; a dash where there is none. Never "-0". */
export function figure(value: number | undefined, digits = 0): string {
  if (value === undefined) return "-";
  const text = value.toFixed(digits);
  return Number(text) === 0 ? text.replace("-", "") : text;
}

/** As `figure`, with its sign always written. */
export function signed(value: number | undefined, digits = 0): string {
  const text = figure(value, digits);
  return value !== undefined && Number(text) > 0 ? `+${text}` : text;
}
