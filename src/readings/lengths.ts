/**
 * From cells with numbers to readings in metres: which decimal mark, which unit, and whether the length can be
 * true.
 */

import type { Problem } from "../plan/index.ts";
import { say } from "../words/index.ts";
import { expectedReadingM } from "./corrections.ts";
import type { CheckFrame } from "./frame.ts";
import type { WingLookup } from "./lookup.ts";
import type { Reading, Target } from "./model.ts";
import {
  type CellNumber,
  type DecimalMark,
  inMetres,
  type NumberSense,
  TABLE_UNITS,
  type Unit,
} from "./numbers.ts";
import { warning, wholeFile } from "./problems.ts";
import { absurdity, isPlausible } from "./targets.ts";

/** A filled cell of a column of readings. */
export interface LengthCell {
  /** Its place, for messages. */
  readonly where: string;
  /** Physical line of the file, or row of the table. */
  readonly line: number;
  readonly columnIndex: number;
  /** The cell as it stands. */
  readonly text: string;
  readonly target: Target;
  readonly number: CellNumber;
  /** From the cell, the unit column or the heading; undefined where the file doesn't say. */
  readonly unit: Unit | undefined;
  readonly note: string | undefined;
  /**
   * One or two digits right after another reading, in a file delimited by commas: perhaps the decimals of that
   * one.
   */
  readonly mayBeDecimals: boolean;
}

export interface ReadLengths {
  readonly readings: readonly Reading[];
  readonly problems: readonly Problem[];
}

/** Whether a reading [m] can be of the cell's target. */
type Fits = (cell: LengthCell, readingM: number) => boolean;

/**
 * At least this share of the values that fit any unit must fit the same one, and half of all values, before a
 * unit is inferred.
 */
const CLEAR_SHARE = 0.75;
const CLEAR_LEAST_SHARE = 0.5;

/**
 * Readings from cells; each cell that can't be understood, or can't be a length of its target, becomes a
 * problem instead.
 */
export function readLengths(
  cells: readonly LengthCell[],
  lookup: WingLookup,
  frame: CheckFrame,
  statedMark?: DecimalMark,
): ReadLengths {
  const problems: Problem[] = [];
  const marks = marksOf(cells);
  if (marks.size > 1 && statedMark === undefined) problems.push(note(say("readings.marks")));
  const mark = statedMark ?? oneMark(marks);
  const fits = fitsPlan(lookup, frame);
  const unitless = cells.filter((cell) => cell.unit === undefined);
  const inferred = unitless.length === 0 ? undefined : inferUnit(unitless, mark, fits);
  if (unitless.length > 0) problems.push(unitProblem(inferred, unitless.length));

  const kept: { readonly cell: LengthCell; readonly lengthM: number }[] = [];
  const split = new Set<string>();
  for (const cell of cells) {
    const unit = cell.unit ?? inferred?.unit;
    if (unit === undefined) continue;
    const lengthsM = sensesOf(cell, mark).map(({ value }) => inMetres(value, unit));
    const lengthM = lengthsM.find((length) => fits(cell, length));
    if (lengthM !== undefined) {
      kept.push({ cell, lengthM });
    } else if (cell.mayBeDecimals) {
      split.add(`${cell.line} ${cell.columnIndex - 1}`);
      problems.push(decimalsProblem(cell));
    } else {
      problems.push(absurdProblem(cell, lengthsM, lookup, frame));
    }
  }
  const readings = kept
    .filter(({ cell }) => !split.has(`${cell.line} ${cell.columnIndex}`))
    .map(
      ({ cell, lengthM }): Reading => ({
        target: cell.target,
        valuesM: [lengthM],
        note: cell.note,
      }),
    );
  return { readings, problems };
}

/** The decimal marks that cells show without doubt. */
function marksOf(cells: readonly LengthCell[]): ReadonlySet<DecimalMark> {
  return new Set(
    cells.flatMap(({ number }) => (number.senses.length === 1 ? (number.senses[0]?.mark ?? []) : [])),
  );
}

function oneMark(marks: ReadonlySet<DecimalMark>): DecimalMark | undefined {
  return marks.size === 1 ? [...marks][0] : undefined;
}

function fitsPlan(lookup: WingLookup, frame: CheckFrame): Fits {
  return (cell, readingM) => {
    const expectedM = expectedReadingM(lookup, cell.target, frame) ?? Number.NaN;
    return isPlausible(readingM, expectedM, frame.instrumentZeroM);
  };
}

/** How the numbers of cells are written: their decimal mark, and the unit of those that name none. */
export interface NumberHabits {
  readonly mark: DecimalMark | undefined;
  /** Cells without a unit of their own. */
  readonly unitless: number;
  /** The unit that fits the plan, and how many of them it fits. */
  readonly inferred: InferredUnit | undefined;
}

/** What {@link readLengths} will take the numbers for, to show beforehand. */
export function numberHabits(
  cells: readonly LengthCell[],
  lookup: WingLookup,
  frame: CheckFrame,
): NumberHabits {
  const mark = oneMark(marksOf(cells));
  const unitless = cells.filter((cell) => cell.unit === undefined);
  return { mark, unitless: unitless.length, inferred: inferUnit(unitless, mark, fitsPlan(lookup, frame)) };
}

/** The senses of a cell that agree with the file's decimal mark, where the other cells settle it. */
function sensesOf(cell: LengthCell, mark: DecimalMark | undefined): readonly NumberSense[] {
  const { senses } = cell.number;
  return mark === undefined || senses.length === 1 ? senses : senses.filter((sense) => sense.mark === mark);
}

export interface InferredUnit {
  readonly unit: Unit;
  readonly fitting: number;
}

/**
 * The unit in which the values fit the plan's lengths. Units are factors of 2.5 and more apart and a plausible
 * length is within a quarter, so one value fits one unit at most (on lines below 0.4 m nearly so: metric first); `7.421` fits metres and, its point grouping
 * thousands, millimetres: the same length.
 */
function inferUnit(
  cells: readonly LengthCell[],
  mark: DecimalMark | undefined,
  fits: Fits,
): InferredUnit | undefined {
  const fitsIn = (cell: LengthCell, unit: Unit): boolean =>
    sensesOf(cell, mark).some(({ value }) => fits(cell, inMetres(value, unit)));
  const fittingAny = cells.filter((cell) => TABLE_UNITS.some((unit) => fitsIn(cell, unit))).length;
  const [best] = TABLE_UNITS.map((unit) => ({
    unit,
    fitting: cells.filter((cell) => fitsIn(cell, unit)).length,
  })).sort((one, other) => other.fitting - one.fitting);
  if (best === undefined || best.fitting === 0) return undefined;
  const clear = best.fitting >= CLEAR_SHARE * fittingAny && best.fitting >= CLEAR_LEAST_SHARE * cells.length;
  return clear ? best : undefined;
}

function unitProblem(inferred: InferredUnit | undefined, count: number): Problem {
  return inferred
    ? note(
        say("readings.unit.inferred", { count, fitting: inferred.fitting, unit: inferred.unit }),
        say("readings.unit.inferred.fix", { unit: inferred.unit }),
      )
    : note(say("readings.unit.none", { count }), say("readings.unit.none.fix"));
}

function absurdProblem(
  cell: LengthCell,
  lengthsM: readonly number[],
  lookup: WingLookup,
  frame: CheckFrame,
): Problem {
  const why = absurdity(lookup, cell.target, lengthsM[0] ?? Number.NaN, frame);
  return at(
    cell,
    say("readings.in-cell", { found: cell.text, why: why?.message ?? say("readings.no-length") }),
    `${why?.remedy ?? say("readings.read-again")} ${say("readings.left-out")}`,
  );
}

function decimalsProblem(cell: LengthCell): Problem {
  return at(cell, say("readings.cut-decimals", { found: cell.text }), say("readings.cut-decimals.fix"));
}

function at(cell: LengthCell, message: string, remedy: string): Problem {
  return warning(cell.where, cell.target.id, message, remedy);
}

function note(message: string, remedy = say("readings.check-values")): Problem {
  return warning(wholeFile(), undefined, message, remedy);
}
