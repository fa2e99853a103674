/**
 * Keeps a text cell from being run as a formula when a table is opened in a spreadsheet.
 *
 * A cell that starts with = + - @ (also full-width), a tab or a line break is given an apostrophe in front, as
 * the OWASP note on CSV injection advises (from memory); reading takes it off again. Existing apostrophes
 * before such a sign get one more, so that both ways round give back the same text.
 */
const RUNS_AS_FORMULA = /^'*(?:\s*[=+\-@＝＋－＠]|[\t\r\n])/u;

export function guardFormula(text: string): string {
  return RUNS_AS_FORMULA.test(text) ? `'${text}` : text;
}

export function unguardFormula(text: string): string {
  return text.startsWith("'") && RUNS_AS_FORMULA.test(text) ? text.slice(1) : text;
}
