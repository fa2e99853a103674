/**
 * The frame of a check (day, tension, datum, instrument) where a table doesn't carry it, and comment lines that
 * do.
 */

import type * as z from "zod";
import type { Problem, Wing } from "../plan/index.ts";
import { say } from "../words/index.ts";
import type { Check, StatedUncertainty } from "./model.ts";
import { type CellNumber, inMetres, readCellNumber } from "./numbers.ts";
import { failure, fileLine } from "./problems.ts";
import type { CsvComment } from "./records.ts";
import {
  datum,
  isoDate,
  readingUncertaintyMm,
  resolutionMm,
  scaleUncertaintyPpm,
  tensionN,
  tensionUncertaintyN,
  zeroMm,
  zeroUncertaintyMm,
} from "./schema.ts";

/** Everything of a check but its readings. SI units. */
export type CheckFrame = Omit<Check, "readings">;

/**
 * The frame that a wing's plan suggests: its own reference tension and datum, an instrument that shows 0 at
 * zero length. `date` is an ISO day.
 */
export function defaultFrame(wing: Wing, date: string): CheckFrame {
  return {
    wingName: wing.name,
    date,
    tensionN: wing.reference.tensionN,
    from: wing.reference.from,
    instrumentZeroM: 0,
    instrument: undefined,
    resolutionM: undefined,
    note: undefined,
  };
}

/** Newtons in one of the units that a tension is written in; kg means the weight of so many kilograms. */
const NEWTONS: Readonly<Record<string, number>> = {
  n: 1,
  dan: 10,
  kg: 9.80665,
  kgf: 9.80665,
};

type Setting = { readonly frame: CheckFrame } | { readonly expected: string };

const SETTINGS: Readonly<Record<string, (frame: CheckFrame, text: string) => Setting>> = {
  wing: (frame, text) => ({ frame: { ...frame, wingName: text } }),
  date: (frame, text) =>
    isoDate.safeParse(text).success
      ? { frame: { ...frame, date: text } }
      : { expected: say("readings.frame.date") },
  tension: (frame, text) => {
    const newtons = readTension(text, tensionN);
    return newtons !== undefined
      ? { frame: { ...frame, tensionN: newtons } }
      : {
          expected: say("readings.frame.tension"),
        };
  },
  from: (frame, text) => {
    const from = datum.safeParse(text.toLowerCase());
    return from.success ? { frame: { ...frame, from: from.data } } : { expected: say("readings.frame.from") };
  },
  zero: (frame, text) => {
    const lengthM = readLength(text, zeroMm);
    return lengthM !== undefined
      ? { frame: { ...frame, instrumentZeroM: lengthM } }
      : {
          expected: say("readings.frame.zero"),
        };
  },
  instrument: (frame, text) => ({ frame: { ...frame, instrument: text } }),
  resolution: (frame, text) => {
    const lengthM = readLength(text, resolutionMm);
    return lengthM !== undefined
      ? { frame: { ...frame, resolutionM: lengthM } }
      : {
          expected: say("readings.frame.resolution"),
        };
  },
  "zero uncertainty": (frame, text) => {
    const lengthM = readLength(text, zeroUncertaintyMm);
    return lengthM !== undefined
      ? withUncertainty(frame, { zeroM: lengthM })
      : { expected: say("readings.frame.zero-uncertainty") };
  },
  "scale uncertainty": (frame, text) => {
    const [, number = ""] = /^([\d.,]+)\s*ppm$/iu.exec(text) ?? [];
    const ppm = onlyFitting(readCellNumber(number), (value) => value, scaleUncertaintyPpm);
    return ppm !== undefined
      ? withUncertainty(frame, { scale: ppm / 1e6 })
      : { expected: say("readings.frame.scale") };
  },
  "tension uncertainty": (frame, text) => {
    const newtons = readTension(text, tensionUncertaintyN);
    return newtons !== undefined
      ? withUncertainty(frame, { tensionN: newtons })
      : {
          expected: say("readings.frame.tension-uncertainty"),
        };
  },
  "reading uncertainty": (frame, text) => {
    const lengthM = readLength(text, readingUncertaintyMm);
    return lengthM !== undefined
      ? withUncertainty(frame, { readingM: lengthM })
      : {
          expected: say("readings.frame.reading"),
        };
  },
  note: (frame, text) => ({ frame: { ...frame, note: text } }),
};

function withUncertainty(frame: CheckFrame, stated: StatedUncertainty): Setting {
  return { frame: { ...frame, uncertainty: { ...frame.uncertainty, ...stated } } };
}

/**
 * Overrides a frame with what a table's comment lines say: `# date: 2026-03-14`, `# tension: 50 N`, `# from:
 * riser`, `# zero: 2 mm`, and `# wing:`, `# instrument:`, `# resolution:`, `# note:`; the standard uncertainties `# zero
 * uncertainty: 1 mm`, `# scale uncertainty: 100 ppm`, `# tension uncertainty: 2 N` and `# reading uncertainty: 1 mm`.
 * Other comments mean nothing. A setting that can't be read is an error, since every deviation hangs on it.
 */
export function frameFromComments(
  comments: readonly CsvComment[],
  frame: CheckFrame,
  placeOf: (line: number) => string = fileLine,
): { readonly frame: CheckFrame; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  let current = frame;
  for (const { line, text } of comments) {
    const [, key = "", value = ""] = /^#*\s*(\p{L}+(?: +\p{L}+)?)\s*:\s*(.*)$/su.exec(text) ?? [];
    const name = key.toLowerCase().replace(/ +/gu, " ");
    const setting = Object.hasOwn(SETTINGS, name) ? SETTINGS[name] : undefined;
    if (setting === undefined || value.trim() === "") continue;
    const result = setting(current, value.trim());
    if ("frame" in result) {
      current = result.frame;
      continue;
    }
    problems.push(
      failure(
        placeOf(line),
        say("readings.frame.comment", { found: text, expected: result.expected }),
        say("readings.frame.comment.fix"),
      ),
    );
  }
  return { frame: current, problems };
}

/** A tension in newtons; its unit must be given, and the newtons fit the schema. */
function readTension(text: string, fits: z.ZodType): number | undefined {
  const [, number = "", unit = ""] = /^([\d.,]+)\s*(\p{L}+)$/u.exec(text) ?? [];
  const newtons = Object.hasOwn(NEWTONS, unit.toLowerCase()) ? NEWTONS[unit.toLowerCase()] : undefined;
  if (newtons === undefined) return undefined;
  return onlyFitting(readCellNumber(number), (value) => value * newtons, fits);
}

/** A length in metres; its unit must be given, and the length in millimetres fit the schema. */
function readLength(text: string, lengthMm: z.ZodType): number | undefined {
  const number = readCellNumber(text);
  const unit = number?.unit;
  if (unit === undefined) return undefined;
  const millimetres = onlyFitting(number, (value) => inMetres(value, unit) * 1000, lengthMm);
  return millimetres === undefined ? undefined : millimetres / 1000;
}

/** The one sense of a number that fits the schema once it is converted; undefined where none or several do. */
function onlyFitting(
  number: CellNumber | undefined,
  convert: (value: number) => number,
  schema: z.ZodType,
): number | undefined {
  const values = (number?.senses ?? [])
    .map((sense) => convert(sense.value))
    .filter((value) => schema.safeParse(value).success);
  return values.length === 1 ? values[0] : undefined;
}
