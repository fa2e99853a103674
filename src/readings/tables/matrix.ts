/**
 * Finds tables as makers' manuals print them: tab numbers down, the wing's rows across, perhaps a block for each
 * side beside or under one another, headings over several lines, cells merged, footnotes below.
 */
import { say } from "../../words/index.ts";
import { type Cell, columnLetter, type Grid } from "./cells.ts";
import { type Heading, pairedSides, readHeading } from "./heading.ts";
import type { RecognisedColumn, TableSection } from "./recognition.ts";

/** Beyond this no row of a wing has tabs. */
const MOST_TABS = 60;
/** Headings may stand over this many lines. */
const MOST_HEADER_ROWS = 4;

/** A tab's number: 3, "3", "3.", "#3", "Nr. 3". */
export function tabNumber(cell: Cell): number | undefined {
  const text =
    typeof cell === "number" ? String(cell) : typeof cell === "string" ? cell.normalize("NFKC") : "";
  const [, digits] = /^\s*(?:#|nr\.?|no\.?|n°)?\s*(\d{1,2})\.?\s*$/iu.exec(text) ?? [];
  const number = Number(digits);
  return number >= 1 && number <= MOST_TABS ? number : undefined;
}

/** Why a column of specified lengths isn't one of readings. */
export const saysSpecified = (): string => say("tables.why.specified");

interface Run {
  readonly rows: readonly number[];
}

/** The sections of a matrix, or none where the table isn't one. */
export function matrixSections(grid: Grid): readonly TableSection[] {
  const numberColumns = Array.from({ length: grid.width }, (_, column) => column).filter((column) =>
    countsTabs(grid, column),
  );
  const lead = numberColumns[0];
  if (lead === undefined) return [];
  const split = pairedSides(allTexts(grid));
  const sections: TableSection[] = [];
  let end = -1;
  for (const { rows } of runsOf(grid, lead)) {
    const [firstRow = 0] = rows;
    const lastRow = rows.at(-1) ?? firstRow;
    const headers = headerRows(grid, end + 1, firstRow, split);
    const before = sections.at(-1);
    const section = sectionOf(grid, headers, { firstRow, lastRow }, numberColumns, split, before);
    if (section !== undefined) sections.push(section);
    end = lastRow;
  }
  return sections;
}

function allTexts(grid: Grid): readonly string[] {
  return grid.table.rows.flatMap((row) => row.filter((cell) => typeof cell === "string"));
}

/** A column that counts 1, 2, 3…: rising, mostly by one, starting at the first few. */
function countsTabs(grid: Grid, column: number): boolean {
  const numbers = Array.from({ length: grid.height }, (_, row) => tabNumber(grid.at(row, column))).filter(
    (number) => number !== undefined,
  );
  const filled = Array.from({ length: grid.height }, (_, row) => grid.text(row, column)).filter((text) =>
    /\d{3}|\d[.,]\d/u.test(text),
  ).length;
  if (numbers.length < 2 || filled > numbers.length / 2 || (numbers[0] ?? 9) > 2) return false;
  const steps = numbers.slice(1).map((number, place) => number - (numbers[place] ?? 0));
  return steps.filter((step) => step === 1).length >= 0.5 * steps.length;
}

/** Runs of numbered rows: a new one begins where the numbers start again at the first. */
function runsOf(grid: Grid, column: number): readonly Run[] {
  const runs: number[][] = [];
  let before = Number.POSITIVE_INFINITY;
  let beforeRow = -2;
  for (let row = 0; row < grid.height; row++) {
    const number = tabNumber(grid.at(row, column));
    if (number === undefined) continue;
    const again = number < before && (row > beforeRow + 1 || number === 1);
    if (runs.length === 0 || again) runs.push([]);
    runs.at(-1)?.push(row);
    before = number;
    beforeRow = row;
  }
  return runs.map((rows) => ({ rows }));
}

/** Rows above a section that say something of its columns, topmost first. */
function headerRows(
  grid: Grid,
  from: number,
  firstRow: number,
  split: ReadonlyMap<string, readonly string[]>,
): readonly number[] {
  const rows: number[] = [];
  for (let row = firstRow - 1; row >= from && rows.length < MOST_HEADER_ROWS; row--) {
    const texts = Array.from({ length: grid.width }, (_, column) => grid.text(row, column));
    if (texts.some((text) => text !== "" && meaning(text, split) !== undefined)) rows.unshift(row);
  }
  return rows;
}

function meaning(text: string, split: ReadonlyMap<string, readonly string[]>): Heading | undefined {
  const heading = readHeading(text, split);
  if (heading === undefined) return undefined;
  const { row, side, unit, holds, level, isNumber, isNote } = heading;
  return [row, side, unit, holds, level].some((part) => part !== undefined) || isNumber || isNote
    ? heading
    : undefined;
}

/** The text that stands over a column: its own, or that of the merged cell to its left in all rows but the lowest. */
function texts(grid: Grid, headers: readonly number[], column: number): readonly string[] {
  return headers.map((row, place) => {
    for (let at = column; at >= 0; at--) {
      const text = grid.text(row, at);
      if (text !== "" || place === headers.length - 1) return text;
    }
    return "";
  });
}

function sectionOf(
  grid: Grid,
  headers: readonly number[],
  { firstRow, lastRow }: { readonly firstRow: number; readonly lastRow: number },
  numberColumns: readonly number[],
  split: ReadonlyMap<string, readonly string[]>,
  before: TableSection | undefined,
): TableSection | undefined {
  const own = Array.from({ length: grid.width }, (_, column) =>
    columnOf(grid, column, texts(grid, headers, column), numberColumns, split, [firstRow, lastRow]),
  );
  const columns = own.some((column) => column.role === "readings") ? own : allSpecified(own);
  if (columns.some((column) => column.role === "readings"))
    return { headerRow: headers.at(-1), firstRow, lastRow, columns: sided(columns) };
  if (before === undefined) return undefined;
  // Only a line such as "Right" between two blocks: the columns above go on, on the side that it names.
  const side = headers
    .flatMap((row) => Array.from({ length: grid.width }, (_, column) => grid.text(row, column)))
    .flatMap((text) => (text === "" ? [] : (meaning(text, split)?.side ?? [])))[0];
  const going = before.columns.map((column) =>
    column.role === "readings"
      ? {
          ...column,
          side,
          sureness: "clear" as const,
          why: say("tables.why.block-side", { why: column.why }),
        }
      : column,
  );
  return { headerRow: headers.at(-1), firstRow, lastRow, columns: going };
}

/** Where all columns are headed as specified, the table is one of specified lengths, and they are what it holds. */
function allSpecified(columns: readonly RecognisedColumn[]): readonly RecognisedColumn[] {
  return columns.map((column) =>
    column.row !== undefined && column.role === "ignored" && column.why === saysSpecified()
      ? {
          ...column,
          role: "readings",
          sureness: column.side === undefined ? "ask" : "clear",
          why: saysSpecified(),
        }
      : column,
  );
}

function columnOf(
  grid: Grid,
  index: number,
  parts: readonly string[],
  numberColumns: readonly number[],
  split: ReadonlyMap<string, readonly string[]>,
  [firstRow, lastRow]: readonly [number, number],
): RecognisedColumn {
  const understood = parts.filter((text) => text !== "" && meaning(text, split) !== undefined);
  const title = parts.filter((text, place) => text !== "" && parts.indexOf(text) === place).join(" / ");
  const base = {
    index,
    label: grid.turned ? say("tables.row", { number: index + 1 }) : columnLetter(index),
    title,
    side: undefined,
    row: undefined,
    level: undefined,
    repeat: undefined,
    unit: undefined,
  };
  const ignored = (why: string): RecognisedColumn => ({ ...base, role: "ignored", sureness: "clear", why });
  if (numberColumns.includes(index))
    return { ...base, role: "number", sureness: "clear", why: say("tables.why.counts") };
  const lowest = parts.at(-1) ?? "";
  const heading = combined(understood, split);
  const filled = Array.from({ length: lastRow - firstRow + 1 }, (_, place) =>
    grid.text(firstRow + place, index),
  ).filter((text) => text !== "").length;
  if (lowest !== "" && meaning(lowest, split) === undefined)
    return ignored(
      filled > 0 ? say("tables.why.unknown", { title: lowest }) : say("tables.why.unknown-empty"),
    );
  if (heading === undefined)
    return ignored(filled > 0 ? say("tables.why.contradict") : say("tables.why.empty"));
  if (heading.isNote)
    return { ...base, role: "note", sureness: "clear", why: say("tables.why.headed", { title }) };
  if (heading.row === undefined)
    return ignored(filled > 0 ? say("tables.why.no-row") : say("tables.why.empty"));
  const { row, side, level, repeat, unit, holds } = heading;
  if (holds === "specified" || holds === "difference") {
    const why = holds === "specified" ? saysSpecified() : say("tables.why.differences");
    return { ...base, row, side, level, repeat, unit, role: "ignored", sureness: "clear", why };
  }
  const why = say("tables.why.headed", { title });
  return {
    ...base,
    row,
    side,
    level,
    repeat,
    unit,
    role: "readings",
    sureness: side === undefined ? "ask" : "clear",
    why,
  };
}

/** Headings over one another taken together; undefined where they contradict. */
function combined(
  understood: readonly string[],
  split: ReadonlyMap<string, readonly string[]>,
): Heading | undefined {
  const headings = understood.flatMap((text) => meaning(text, split) ?? []);
  // A "D" under or over a row is the right side's short name in French.
  const rows = headings.filter((heading) => heading.row !== undefined);
  if (new Set(rows.map((heading) => heading.row)).size > 1) return readHeading(understood.join(" "), split);
  if (rows.length > 1 && rows.every((heading) => heading.row === "D"))
    return readHeading([...new Set(understood)].length > 1 ? "D" : "D D", split);
  let all: Heading | undefined;
  for (const heading of headings) {
    if (all === undefined) {
      all = heading;
      continue;
    }
    const one = all;
    const clash = (["side", "unit", "level", "repeat"] as const).some(
      (part) => one[part] !== undefined && heading[part] !== undefined && one[part] !== heading[part],
    );
    if (clash) return undefined;
    all = {
      row: one.row ?? heading.row,
      side: one.side ?? heading.side,
      unit: one.unit ?? heading.unit,
      level: one.level ?? heading.level,
      repeat: one.repeat ?? heading.repeat,
      holds: heading.holds ?? one.holds,
      isNumber: one.isNumber || heading.isNumber,
      isNote: one.isNote || heading.isNote,
    };
  }
  return all;
}

/** Where a single block has "D" under both spans it is settled above; here only repeats are numbered. */
function sided(columns: readonly RecognisedColumn[]): readonly RecognisedColumn[] {
  return columns.map((column) => {
    if (column.role !== "readings" || column.side === undefined) return column;
    const same = columns.filter(
      (other) =>
        other.role === "readings" &&
        other.row === column.row &&
        other.side === column.side &&
        other.level === column.level,
    );
    return same.length > 1 ? { ...column, repeat: column.repeat ?? same.indexOf(column) + 1 } : column;
  });
}
