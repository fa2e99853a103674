/** Which way round a table of lengths stands, told from its headings and names, and the same table brought round. */
import type { Draft, LineKind } from "../../plan/draft/index.ts";
import { ROW_PREFIXES, rowNamed } from "../../plan/draft/source.ts";
import { ROWS, type Row } from "../../plan/model.ts";

export type TableOf = "total" | LineKind;

/** A cell of the brought-round table: its text and where it came from. */
export interface Turned {
  readonly text: string;
  readonly from: readonly [row: number, column: number] | undefined;
}

const NUMBER_HEADS =
  /^(number|no|nr|num|nummer|n°|nº|#|n|tab|pos|position|numéro|aufhängung|patte|line|leine|suspente)$/iu;
const MM_HEADS = /^(mm|length|total|länge|longueur|gesamt|soll)$/iu;
const ROW_WORDS = /\b(row|ebene|rang|reihe|rangée|rows|riser|total|totals|gesamt|totaux)\b/giu;
const BRAKE_WORDS = /^(brakes?|bremsen?|freins?|br|k)$/iu;
const TIP_WORDS = /^(tips?|stabilo|stabi?|stabs?|st|t)$/iu;
const KIND_WORDS: readonly (readonly [TableOf, RegExp])[] = [
  ["lower", /^(lower|lowest|untere?|unten|basse?s?|bas|1)$/iu],
  ["middle", /^(middle|mid|mittlere?|mitte|intermédiaires?|milieu|2)$/iu],
  ["third", /^(third|dritte|troisièmes?|3)$/iu],
  ["upper", /^(upper|top|obere?|oben|hautes?|haut)$/iu],
  ["total", /^(total|totals|path|paths|gesamt|totaux)$/iu],
];

export const NUMBER = /^\d+(?:[.,]\d+)?$/u;
const isWhole = (text: string): boolean => /^\d{1,3}\.?$/u.test(text);
export const plainNumber = (text: string): string =>
  text
    .replace(/\s*(mm|cm|m|in|")$/iu, "")
    .replace(/(?<=\d)[\s'’](?=\d{3}(?:\D|$))/gu, "")
    .replace(",", ".");

function rowWord(word: string): Row | undefined {
  if (BRAKE_WORDS.test(word)) return "brake";
  if (TIP_WORDS.test(word)) return "tip";
  return rowNamed(word);
}

/** "Row A", "A (mm)", "B lower", "Bremse": the row and what of it; undefined for other words. */
export function headingOf(text: string): { readonly row: Row; readonly of: TableOf | undefined } | undefined {
  const words = text
    .replace(/[[(]\s*(?:mm|cm|m|in)\s*[\])]/giu, "")
    .split(/[\s_-]+/u)
    .filter((word) => word !== "");
  let row: Row | undefined;
  let of: TableOf | undefined;
  for (const word of words) {
    const kind =
      words.length > 1 && row !== undefined ? KIND_WORDS.find(([, form]) => form.test(word))?.[0] : undefined;
    const named = rowWord(word);
    if (named !== undefined && row === undefined) row = named;
    else if (kind !== undefined) of = kind;
    else if (!new RegExp(ROW_WORDS.source, "iu").test(word)) return undefined;
  }
  return row === undefined ? undefined : { row, of };
}

/** Rows of cells without those that are empty all along. */
export function turnedOf(cells: readonly (readonly string[])[]): readonly (readonly Turned[])[] {
  const width = Math.max(0, ...cells.map((row) => row.length));
  const filled = (column: number): boolean => cells.some((row) => (row[column] ?? "").trim() !== "");
  const columns = Array.from({ length: width }, (_, column) => column).filter(filled);
  return cells.flatMap((row, at) =>
    row.some((cell) => cell.trim() !== "")
      ? [columns.map((column): Turned => ({ text: (row[column] ?? "").trim(), from: [at, column] }))]
      : [],
  );
}

const made = (text: string): Turned => ({ text, from: undefined });

export interface Shape {
  readonly head: readonly string[];
  readonly body: readonly (readonly Turned[])[];
  readonly heads: readonly (readonly Turned[])[];
  readonly ordered: boolean;
}

/** A list of names with a length each: A1 7421. */
function listShape(rows: readonly (readonly Turned[])[], draft: Draft, of: TableOf): Shape | undefined {
  const lines = new Map(draft.lines.map((line) => [line.name.toLowerCase(), line]));
  const isName = (text: string): boolean => lines.has(text.toLowerCase().replace(/^[lr]\s+/u, ""));
  const named = rows.filter((row) => isName(row[0]?.text ?? ""));
  if (named.length < 2 || named.length < rows.length / 2 || (rows[0]?.length ?? 0) !== 2) return undefined;
  const body = rows.filter((row, index) => index > 0 || NUMBER.test(plainNumber(row[1]?.text ?? "")));
  return {
    head: ["row", "number", "line", "mm"],
    heads: body.length === rows.length ? [] : [rows[0] as readonly Turned[]],
    body: body.map(([name = made(""), mm = made("")]) => {
      const line = lines.get(name.text.toLowerCase());
      const letters = /^([A-Za-z]+?)(?:[LMU])?(\d+)$/u.exec(name.text);
      const kind =
        line === undefined || line.kind === "upper" ? (of === "upper" ? "upper" : "total") : line.kind;
      const row = line?.row ?? letters?.[1] ?? name.text;
      const number = line?.number.toString() ?? letters?.[2] ?? "";
      return [{ text: row, from: name.from }, { text: number, from: name.from }, made(kind), mm];
    }),
    ordered: false,
  };
}

/** The table with a row of the draft in each column. */
function wideShape(rows: readonly (readonly Turned[])[], draft: Draft, of: TableOf): Shape | undefined {
  const [first = [], ...rest] = rows;
  const letters = first.map(({ text }) => headingOf(text));
  const column = (at: number): readonly Turned[] => rest.map((row) => row[at] ?? made(""));
  const counts = (cells: readonly Turned[]): boolean =>
    cells.length > 0 &&
    cells.every(
      ({ text }, index) =>
        isWhole(text.replace(/^\D+/u, "")) && Number.parseInt(text.replace(/^\D+/u, ""), 10) === index + 1,
    );
  const heading = (row: Row, kind: TableOf): string =>
    kind === "total" ? ROW_PREFIXES[row] : `${ROW_PREFIXES[row]} ${kind}`;
  if (letters.some((each) => each !== undefined)) {
    let numberAt = first.findIndex(({ text }) => NUMBER_HEADS.test(text.replace(/\.$/u, "")));
    if (numberAt < 0) numberAt = first.findIndex((_, at) => letters[at] === undefined && counts(column(at)));
    if (numberAt < 0 && letters[0] === undefined && (first[0]?.text ?? "") === "") numberAt = 0;
    const head = first.map(({ text }, at) => {
      const letter = letters[at];
      if (at === numberAt) return "number";
      return letter === undefined ? text : heading(letter.row, letter.of ?? of);
    });
    const body = rest.map((row) =>
      row.map((cell, at) =>
        at === numberAt ? { ...cell, text: cell.text.replace(/^\D+|\D+$/gu, "") || cell.text } : cell,
      ),
    );
    return {
      head: numberAt < 0 ? ["number", ...head] : head,
      heads: [numberAt < 0 ? [made(""), ...first] : first],
      body: numberAt < 0 ? body.map((row, index) => [made(String(index + 1)), ...row]) : body,
      ordered: false,
    };
  }
  // Figures without any heading: a column for each row of the draft, perhaps with their numbers before.
  const present = ROWS.filter((row) => draft.tabs.some((tab) => tab.row === row));
  const figures = rows.every((row) =>
    row.every(({ text }) => text === "" || /^[-–—?]$/u.test(text) || /\d/u.test(text)),
  );
  const isNumbered = counts(rows.map((row) => row[0] ?? made("")));
  const canopy = present.filter((row) => row !== "tip" && row !== "brake");
  const width = first.length - (isNumbered ? 1 : 0);
  const order = [present, canopy, canopy.filter((_, at) => at < width)].find((each) => each.length === width);
  if (!figures || order === undefined || width === 0) return undefined;
  return {
    head: ["number", ...order.map((row) => heading(row, of))],
    heads: [],
    body: isNumbered ? rows : rows.map((row, index) => [made(String(index + 1)), ...row]),
    ordered: true,
  };
}

/** With rows and columns changed about. */
function aside(rows: readonly (readonly Turned[])[]): readonly (readonly Turned[])[] {
  const width = Math.max(0, ...rows.map((row) => row.length));
  return Array.from({ length: width }, (_, at) => rows.map((row) => row[at] ?? made("")));
}

export function shapeOf(cells: readonly (readonly string[])[], draft: Draft, of: TableOf): Shape | undefined {
  const rows = turnedOf(cells);
  const first = rows[0]?.map(({ text }) => text) ?? [];
  const has = (form: RegExp): boolean => first.some((text) => form.test(text));
  if (has(/^(row|ebene|rang)$/iu) && has(NUMBER_HEADS) && has(MM_HEADS)) {
    const head = first.map((text) =>
      /^(row|ebene|rang)$/iu.test(text)
        ? "row"
        : MM_HEADS.test(text)
          ? "mm"
          : NUMBER_HEADS.test(text) && !/^line$/iu.test(text)
            ? "number"
            : text,
    );
    return { head, heads: [rows[0] as readonly Turned[]], body: rows.slice(1), ordered: false };
  }
  const list = listShape(rows, draft, of);
  if (list !== undefined) return list;
  const lead = rows.map((row) => row[0]?.text ?? "");
  const leads = lead.filter((text) => headingOf(text) !== undefined).length;
  const heads = first.filter((text) => headingOf(text) !== undefined).length;
  const lying =
    leads > 0 && leads >= lead.length - 1 && leads >= heads && rows.length > 0 && first.length > 1;
  return wideShape(lying ? aside(rows) : rows, draft, of);
}
