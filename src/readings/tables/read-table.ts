/** Reads a table by its recognition. */

import type { Parsed, Problem, Wing } from "../../plan/index.ts";
import { say } from "../../words/index.ts";
import { checkOf } from "../check-of.ts";
import { type CheckFrame, frameFromComments } from "../frame.ts";
import { readLengths } from "../lengths.ts";
import type { Check } from "../model.ts";
import { lookUpNames } from "../names.ts";
import { otherWing } from "../parse.ts";
import { fileLine, warning } from "../problems.ts";
import { type CellTable, cellPlace, commentsAmong, gridOf, tableName } from "./cells.ts";
import { openQuestions } from "./questions.ts";
import type { RecognisedColumn, RecognisedTable } from "./recognition.ts";
import { tableCells } from "./table-cells.ts";

/**
 * The check that a table holds, read as the recognition says, from `recogniseTable` or changed by hand.
 *
 * @param frame what the table doesn't say itself: see `defaultFrame`; comments such as `# tension: 50 N` in a
 * row's first filled cell go before it
 * @returns a check of the readings that are good, with a warning for each that isn't, by its cell (`sheet
 * Readings, cell C7`). Errors where the recognition leaves a question open (a side, the numbering), the table
 * says that it holds specified lengths, a comment's setting is wrong, or no reading can be used.
 */
export function readTable(
  table: CellTable,
  wing: Wing,
  frame: CheckFrame,
  recognition: RecognisedTable,
): Parsed<Check> {
  const questions = openQuestions(table, wing, recognition);
  if (questions.some((question) => question.severity === "error")) return { ok: false, problems: questions };
  const settings = settingsOf(table, frame);
  if (settings.problems.length > 0) return { ok: false, problems: settings.problems };

  const lookup = lookUpNames(wing);
  const grid = gridOf(table, recognition.orientation === "across");
  const cells = tableCells(grid, recognition, wing, lookup);
  const lengths = readLengths(cells.cells, lookup, settings.frame, recognition.decimalMark);
  const problems = [
    ...otherWing(settings.frame.wingName, wing, tableName(table)),
    ...badQuotes(table),
    ...questions,
    ...cells.problems,
    ...lengths.problems,
  ];
  const nothingThere = cells.cells.length + problems.length === 0;
  return checkOf(settings.frame, lengths.readings, problems, nothingThere);
}

function settingsOf(table: CellTable, frame: CheckFrame): ReturnType<typeof frameFromComments> {
  const beside = frameFromComments(table.comments, frame);
  const among = frameFromComments(commentsAmong(table), beside.frame, (line) => cellPlace(table, line - 1));
  return { frame: among.frame, problems: [...beside.problems, ...among.problems] };
}

function badQuotes(table: CellTable): readonly Problem[] {
  return table.badQuotes.map(({ line, unclosed }) => {
    const message = unclosed ? say("readings.quote-open") : say("readings.quote-after");
    return warning(fileLine(line), undefined, message, say("tables.quote.fix"));
  });
}

/**
 * The same recognition with the sides that are open given: for a table of one side, or of both alike. Several open
 * columns of the same row stay open: they are likely the two sides, and one word can't tell which is which.
 */
export function withSide(recognition: RecognisedTable, side: "left" | "right" | "both"): RecognisedTable {
  if (recognition.layout === "readings") return recognition;
  return {
    ...recognition,
    sections: recognition.sections.map((section) => ({
      ...section,
      columns: section.columns.map((column) => {
        const isOpen = (other: RecognisedColumn): boolean =>
          other.role === "readings" &&
          other.side === undefined &&
          other.row === column.row &&
          other.level === column.level;
        if (!isOpen(column) || section.columns.filter(isOpen).length > 1) return column;
        return { ...column, side, sureness: "clear", why: say("tables.why.given", { why: column.why }) };
      }),
    })),
  };
}
