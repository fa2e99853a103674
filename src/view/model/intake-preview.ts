/** What would be taken from a table, cell by cell, before it is taken. */
import { type Problem, SIDES, type Side, type Wing } from "../../plan/model.ts";
import { expectedReadingM } from "../../readings/corrections.ts";
import type { CheckFrame } from "../../readings/frame.ts";
import { readLengths } from "../../readings/lengths.ts";
import type { Check } from "../../readings/model.ts";
import { lookUpNames, matchName, type NameLookup } from "../../readings/names.ts";
import { isBlank } from "../../readings/rows.ts";
import { type CellTable, columnLetter, type Grid, gridOf } from "../../readings/tables/cells.ts";
import { openQuestions } from "../../readings/tables/questions.ts";
import { readTable } from "../../readings/tables/read-table.ts";
import type { ColumnRole, RecognisedTable } from "../../readings/tables/recognition.ts";
import { tableCells } from "../../readings/tables/table-cells.ts";
import { cellKey, type OpenQuestion, openIn } from "./intake-draft.ts";
import { nearNames } from "./intake-near.ts";

/** A reading further from what is specified is likely a slip [m]. */
export const FAR_M = 0.1;

/**
 * `taken`; `problem`: something is wrong there; `left out`: a length that isn't taken; `open`: one that waits for an answer;
 * `name`: says what a row is about.
 */
export type CellState = "taken" | "problem" | "left out" | "open" | "name";

/** A problem with its place in the grid, where it has one. */
export interface ListedProblem {
  readonly problem: Problem;
  readonly row: number | undefined;
  readonly column: number | undefined;
  /** The cell as a spreadsheet calls it; undefined where the problem concerns more than one. */
  readonly cell: string | undefined;
  /** Of a name that the plan hasn't: names that are nearly so, nearest first. */
  readonly near: readonly string[];
}

export interface FarReading {
  readonly row: number;
  readonly column: number;
  readonly cell: string;
  readonly id: string;
  readonly side: Side;
  /** Read minus what would be read if it were as specified [m]. */
  readonly offM: number;
}

export interface Preview {
  readonly grid: Grid;
  readonly questions: readonly OpenQuestion[];
  /** There as soon as nothing is open and at least one reading is good. */
  readonly check: Check | undefined;
  /** Readings, several values of one tab or line counted once. */
  readonly readings: number;
  readonly bySide: Readonly<Record<Side, number>>;
  readonly values: number;
  /** Filled cells in columns of lengths that aren't taken. */
  readonly notTaken: number;
  readonly far: readonly FarReading[];
  readonly problems: readonly ListedProblem[];
  /** By {@link cellKey}. */
  readonly cells: ReadonlyMap<string, CellState>;
}

/**
 * @param table without its settings: see `withoutSettings`
 * @param frame undefined as long as it isn't answered: then nothing can be taken, and lengths are held against `suggested`
 */
export function previewOf(
  table: CellTable,
  wing: Wing,
  frame: CheckFrame | undefined,
  suggested: CheckFrame,
  recognition: RecognisedTable,
): Preview {
  const grid = gridOf(table, recognition.orientation === "across");
  const lookup = lookUpNames(wing);
  const open = openQuestions(table, wing, recognition);
  const blocked = open.some(({ severity }) => severity === "error");
  const questions = blocked ? openIn(recognition, recognition.numbering === undefined) : [];
  const by = frame ?? suggested;
  const parsed = blocked ? undefined : readTable(table, wing, by, recognition);

  // Each cell's number as its note tells which cells became readings, and which length they were read as.
  const filled = tableCells(grid, recognition, wing, lookup).cells;
  const numbered = filled.map((cell, at) => ({ ...cell, note: String(at) }));
  const { readings } = readLengths(numbered, lookup, by, recognition.decimalMark);
  const kept = readings.flatMap(({ note, valuesM: [valueM] }) => {
    const cell = filled[Number(note)];
    return cell === undefined || valueM === undefined ? [] : [{ cell, valueM }];
  });

  const problems = placed(
    parsed?.problems ?? open.filter(({ severity }) => severity === "warning"),
    grid,
    recognition,
    lookup,
  );
  const cells = new Map<string, CellState>();
  const takenAt = new Set(kept.map(({ cell }) => cellKey(cell.line - 1, cell.columnIndex)));
  let notTaken = 0;
  for (const section of recognition.sections)
    for (let row = section.firstRow; row <= section.lastRow; row++)
      for (const { index, role } of section.columns) {
        if (role === "ignored" || isBlank(grid.text(row, index))) continue;
        const key = cellKey(row, index);
        if (role !== "readings") cells.set(key, "name");
        else if (takenAt.has(key)) cells.set(key, "taken");
        else {
          cells.set(key, blocked ? "open" : "left out");
          notTaken += 1;
        }
      }
  for (const { row, column, problem } of problems) {
    if (row === undefined || column === undefined || problem.severity === "error") continue;
    const key = cellKey(row, column);
    // A second reading of the same is worth a look, and taken.
    if (cells.get(key) !== "taken") cells.set(key, "problem");
  }

  const far = kept.flatMap(({ cell, valueM }): FarReading[] => {
    const expectedM = expectedReadingM(lookup, cell.target, by);
    const offM = expectedM === undefined ? 0 : valueM - expectedM;
    if (Math.abs(offM) <= FAR_M) return [];
    const { id, side } = cell.target;
    const [row, column] = [cell.line - 1, cell.columnIndex];
    return [{ row, column, cell: addressIn(grid, row, column), id, side, offM }];
  });
  const check = parsed?.ok && parsed.value.readings.length > 0 ? parsed.value : undefined;
  const count = (side: Side): number =>
    check?.readings.filter(({ target }) => target.side === side).length ?? 0;
  const [left, right] = SIDES.map(count);
  return {
    grid,
    questions,
    check: frame === undefined ? undefined : check,
    readings: check?.readings.length ?? 0,
    bySide: { left: left ?? 0, right: right ?? 0 },
    values: kept.length,
    notTaken,
    far,
    problems,
    cells,
  };
}

/** A cell as a spreadsheet calls it; of a text file by the line it stands on. */
export function addressIn({ table, turned }: Grid, row: number, column: number): string {
  const [down, across] = turned ? [column, row] : [row, column];
  return `${columnLetter(across)}${rowNumber(table, down)}`;
}

/** The number of a row of the table as its own: of a text file its line. */
export function rowNumber({ source }: CellTable, row: number): number {
  return source.kind === "file" ? (source.lines[row] ?? row + 1) : row + 1;
}

const NAMED: readonly ColumnRole[] = ["tab", "line", "name"];

/** Problems with their places: found by what the core calls each place, whatever the language. */
function placed(
  problems: readonly Problem[],
  grid: Grid,
  recognition: RecognisedTable,
  lookup: NameLookup,
): readonly ListedProblem[] {
  if (problems.length === 0) return [];
  const places = new Map<string, { readonly row: number; readonly column: number | undefined }>();
  for (let row = 0; row < grid.height; row++) {
    places.set(grid.place(row), { row, column: undefined });
    for (let column = 0; column < grid.width; column++) places.set(grid.place(row, column), { row, column });
  }
  const columns = recognition.sections.flatMap((section) => section.columns);
  return problems.map((problem) => {
    const place = places.get(problem.where);
    if (place === undefined) return { problem, row: undefined, column: undefined, cell: undefined, near: [] };
    const { row, column } = place;
    if (column === undefined) return { problem, row, column, cell: undefined, near: [] };
    const role = columns.find(({ index }) => index === column)?.role;
    const text = grid.text(row, column);
    const isUnknown = role !== undefined && NAMED.includes(role) && !isKnown(lookup, text);
    const near = isUnknown ? nearNames(lookup.wing, text, role === "line" ? "line" : "tab") : [];
    return { problem, row, column, cell: addressIn(grid, row, column), near };
  });
}

function isKnown(lookup: NameLookup, text: string): boolean {
  return (["tab", "line"] as const).some((kind) =>
    SIDES.some((side) => matchName(lookup, kind, side, text).found !== "none"),
  );
}
