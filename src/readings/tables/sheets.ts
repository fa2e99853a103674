/** Which of a workbook's sheets holds the readings. */

import type { Parsed, Problem, Wing } from "../../plan/index.ts";
import { say } from "../../words/index.ts";
import { readCellNumber } from "../numbers.ts";
import { failure, warning, wholeFile } from "../problems.ts";
import { type CellTable, gridOf, tableName } from "./cells.ts";
import { recogniseTable } from "./recognise.ts";
import type { RecognisedTable } from "./recognition.ts";

export interface ChosenSheet {
  readonly table: CellTable;
  readonly recognition: RecognisedTable;
}

const nameOf = (table: CellTable): string =>
  table.source.kind === "sheet" ? table.source.name : tableName(table);
const plain = (name: string): string => name.normalize("NFKC").trim().toLowerCase();

/**
 * The sheet called `wanted`, else the one that looks like readings: one that says that it holds readings goes
 * before one that says nothing, and that before one of specified lengths; then the one with most lengths. Where
 * two can't be told apart, none is chosen.
 *
 * @returns with a warning that names the sheet and the others, where there are several; its other problems are
 * the questions of `recogniseTable`.
 */
export function chooseSheet(tables: readonly CellTable[], wing: Wing, wanted?: string): Parsed<ChosenSheet> {
  const names = tables.map((table) => `"${nameOf(table)}"`).join(", ");
  if (wanted !== undefined) {
    const table =
      tables.find((each) => nameOf(each) === wanted) ??
      tables.find((each) => plain(nameOf(each)) === plain(wanted));
    if (table === undefined) {
      const message = say("tables.sheet.unknown", { wanted, count: tables.length, names });
      return { ok: false, problems: [failure(wholeFile(), message, say("tables.sheet.choose"))] };
    }
    const found = recogniseTable(table, wing);
    return found.ok
      ? { ok: true, value: { table, recognition: found.value }, problems: found.problems }
      : { ok: false, problems: found.problems };
  }
  const candidates = tables.flatMap((table) => {
    const found = recogniseTable(table, wing);
    return found.ok
      ? [{ table, recognition: found.value, problems: found.problems, rank: rankOf(table, found.value) }]
      : [];
  });
  candidates.sort((one, other) => other.rank.said - one.rank.said || other.rank.lengths - one.rank.lengths);
  const [best, next] = candidates;
  if (best === undefined) {
    const problems = tables.flatMap((table) => recogniseTable(table, wing).problems);
    const message = say("tables.sheets.none", { count: tables.length, names });
    return {
      ok: false,
      problems: [failure(wholeFile(), message, say("tables.sheets.none.fix")), ...problems],
    };
  }
  if (next !== undefined && next.rank.said === best.rank.said && 2 * next.rank.lengths > best.rank.lengths) {
    const message = say("tables.sheets.two", { one: nameOf(best.table), other: nameOf(next.table) });
    return { ok: false, problems: [failure(wholeFile(), message, say("tables.sheets.two.fix"))] };
  }
  const several: Problem[] =
    tables.length === 1
      ? []
      : [
          warning(
            wholeFile(),
            undefined,
            say("tables.sheets.chosen", { sheet: nameOf(best.table), names }),
            say("tables.sheets.chosen.fix"),
          ),
        ];
  const { table, recognition, problems } = best;
  return { ok: true, value: { table, recognition }, problems: [...several, ...problems] };
}

interface Rank {
  readonly said: number;
  readonly lengths: number;
}

function rankOf(table: CellTable, recognition: RecognisedTable): Rank {
  const grid = gridOf(table, recognition.orientation === "across");
  let lengths = 0;
  for (const section of recognition.sections)
    for (const column of section.columns) {
      if (column.role !== "readings") continue;
      for (let row = section.firstRow; row <= section.lastRow; row++)
        if (readCellNumber(grid.text(row, column.index)) !== undefined) lengths++;
    }
  const said = recognition.holds === "readings" ? 1 : recognition.holds === "specified" ? -1 : 0;
  return { said, lengths };
}
