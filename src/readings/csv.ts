/** Reads a table of readings as people and instruments write it: CSV with commas, semicolons or tabs. */

import type { Parsed, Problem, Wing } from "../plan/index.ts";
import { say } from "../words/index.ts";
import { checkOf } from "./check-of.ts";
import { type CheckFrame, frameFromComments } from "./frame.ts";
import { readLengths } from "./lengths.ts";
import type { Check } from "./model.ts";
import { lookUpNames } from "./names.ts";
import { otherWing } from "./parse.ts";
import { failure, fileLine, warning, wholeFile } from "./problems.ts";
import { plainText } from "./records.ts";
import { readCells } from "./rows.ts";
import { type FoundTable, findTable, type Table } from "./table.ts";
import { readTable } from "./tables/read-table.ts";
import { recogniseMatrix } from "./tables/recognise.ts";
import { fileCells } from "./tables/text-cells.ts";

/**
 * A check from a table of readings.
 *
 * Two shapes: a row per tab or line (`tab`, `line` or `name`; `left`, `right`, also several of each for
 * repeats), or a row per reading (`tab`, `line` or `name`; `side`; `value`). `tab` means the whole path, `line`
 * that line alone, `name` a tab or else a line. Further columns: `unit`, `note`, `repeat` (several rows for one
 * name are repeats in any case). Empty cells and dashes mean not measured. Units come from the cell, the unit
 * column or the heading; without any, from the plan's lengths where that is clear, and a warning says so.
 * A table of tab numbers down and the wing's rows across is read too: see `recogniseTable`.
 * Decimal comma or point and grouped thousands are told from the file and the plan, never guessed. Comment
 * lines may carry the frame: see `frameFromComments`.
 *
 * @param text the file's text
 * @param frame what the file doesn't say itself: see `defaultFrame`
 * @returns a check of the readings that are good, with a warning for each that isn't: its physical line in the
 * file (header counted, from 1), its column, what was found and what was expected. Only errors where there is
 * no header we know, a comment's setting is wrong, or none of the readings can be used.
 */
export function parseReadingsCsv(text: string, wing: Wing, frame: CheckFrame): Parsed<Check> {
  const found = findTable(plainText(text));
  if (!found.ok) {
    const table = fileCells(text);
    const matrix = recogniseMatrix(table, wing);
    return matrix === undefined
      ? { ok: false, problems: [noTable(found)] }
      : readTable(table, wing, frame, matrix);
  }

  const { table } = found;
  const settings = frameFromComments(table.comments, frame);
  const lookup = lookUpNames(wing);
  const cells = readCells(table, lookup);
  const lengths = readLengths(cells.cells, lookup, settings.frame);
  const problems = [
    ...settings.problems,
    ...otherWing(settings.frame.wingName, wing, wholeFile()),
    ...layoutProblems(table),
    ...byLine([...cells.problems, ...lengths.problems]),
  ];
  if (settings.problems.length > 0) return { ok: false, problems };

  const nothingThere = cells.cells.length + cells.problems.length === 0 && table.badQuotes.length === 0;
  return checkOf(settings.frame, lengths.readings, problems, nothingThere);
}

function noTable(found: Extract<FoundTable, { ok: false }>): Problem {
  const headings = found.headings.map((heading) => `"${heading}"`).join(", ") || say("readings.no-headings");
  const message = say("readings.no-table", { reason: found.reason, found: headings });
  const remedy = say("readings.no-table.fix");
  return failure(fileLine(found.line), message, remedy);
}

/** What is said of the table as a whole. */
function layoutProblems(table: Table): readonly Problem[] {
  const problems: Problem[] = [];
  const headerLine = fileLine(table.header.line);
  if (table.before.length > 0) {
    const message = say("readings.headings-below");
    problems.push(warning(headerLine, undefined, message, say("readings.headings-below.fix")));
  }
  if (table.unused.length > 0) {
    const titles = table.unused.map((title) => `"${title}"`).join(", ");
    const remedy = say("readings.unused.fix");
    problems.push(warning(headerLine, undefined, say("readings.unused", { titles }), remedy));
  }
  for (const { line, unclosed } of table.badQuotes) {
    const message = unclosed ? say("readings.quote-open") : say("readings.quote-after");
    const remedy = say("readings.quote.fix");
    problems.push(warning(fileLine(line), undefined, message, remedy));
  }
  return problems;
}

/** What concerns the whole file first, then down the file. */
function byLine(problems: readonly Problem[]): readonly Problem[] {
  const line = (problem: Problem): number => Number(/\d+/u.exec(problem.where)?.[0] ?? 0);
  return [...problems].sort((one, other) => line(one) - line(other));
}
