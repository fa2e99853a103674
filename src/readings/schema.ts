/**
 * The check file's shape, `linewright-check` version 1: one zod schema for the type, the messages and the
 * published JSON Schema. Millimetres and newtons, with the unit in the key.
 */

import * as z from "zod";
import { type JsonSchema, jsonSchemaOf } from "../plan/index.ts";
import { say } from "../words/index.ts";

export const CHECK_FORMAT = "linewright-check";

/** Versions of the check file that this program reads. */
export const CHECK_VERSIONS: readonly number[] = [1];

const text = (most: number) =>
  z
    .string()
    .min(1, { error: () => say("readings.schema.leave-out") })
    .max(most, { error: () => say("readings.schema.long", { most }) });

export const isoDate = z.iso.date({ error: () => say("readings.schema.day") });
/** A tension beyond this would endanger a thin line: a slip of the unit is more likely than a reading. */
export const tensionN = z.number().positive().max(1000);
export const datum = z.enum(["riser", "maillon"]);
export const zeroMm = z.number().min(-2000).max(2000);
export const resolutionMm = z.number().positive().max(100);
export const zeroUncertaintyMm = z.number().min(0).max(100);
export const scaleUncertaintyPpm = z.number().min(0).max(10_000);
export const tensionUncertaintyN = z.number().min(0).max(100);
/** Not 0: whatever is read again comes out a little different. */
export const readingUncertaintyMm = z.number().positive().max(100);

const lengthMm = z.number().positive().max(100_000);
const reading = {
  side: z.enum(["left", "right"]).describe("The pilot's left or right"),
  mm: z
    .union([lengthMm, z.array(lengthMm).min(1)])
    .describe("Length as read [mm], above 0 and before any correction; a list where it was read again"),
  note: text(2000).optional().describe("Anything worth remembering about this reading"),
};
const name = z
  .string()
  .trim()
  .min(1, { error: () => say("readings.schema.name") });

/** A reading of the whole path to a tab. */
export const tabReadingSchema = z
  .strictObject({ tab: name.describe("Tab, as the plan names it"), ...reading })
  .describe("A reading of the whole path to a tab");
/** A reading of one line on its own. */
export const lineReadingSchema = z
  .strictObject({
    line: name.describe("Line, as the plan names it"),
    ...reading,
  })
  .describe("A reading of one line on its own");

const instrument = z
  .strictObject({
    name: text(200).optional().describe("What the readings were taken with"),
    zeroMm: zeroMm.optional().describe("What it shows at zero length [mm]; subtracted from every reading"),
    resolutionMm: resolutionMm.optional().describe("Smallest step it shows [mm]"),
    zeroUncertaintyMm: zeroUncertaintyMm
      .optional()
      .describe("Standard uncertainty of its zero and the measuring point, common to all readings [mm]"),
    scaleUncertaintyPpm: scaleUncertaintyPpm
      .optional()
      .describe("Standard uncertainty of its scale, common to all readings [millionths of the length]"),
    tensionUncertaintyN: tensionUncertaintyN
      .optional()
      .describe("Standard uncertainty of the tension of each reading [N]"),
    readingUncertaintyMm: readingUncertaintyMm
      .optional()
      .describe("Standard uncertainty of each reading: its point at the tab, and the hand [mm]"),
  })
  .describe("The instrument, as far as known");

const frame = {
  format: z.literal(CHECK_FORMAT).describe("Kind of file"),
  version: z.literal(1).describe("Version of the format"),
  wing: text(200).optional().describe("Name of the wing that was read, as its plan has it"),
  date: isoDate.describe("Day of the check"),
  tensionN: tensionN.describe("Tension that every reading was taken under [N]"),
  from: datum.describe(
    "Where readings of whole paths begin: the riser's base (main carabiner) or the maillon's inner edge; brakes begin at their pulley",
  ),
  instrument: instrument.optional(),
  note: text(10_000).optional().describe("Anything worth remembering about the check"),
};

/** The whole file. */
export const checkFileSchema = z.strictObject({
  ...frame,
  readings: z
    .array(z.union([tabReadingSchema, lineReadingSchema]))
    .describe("What was read; several entries for one tab or line are repeats"),
});

/** The file with its readings not yet looked at: one bad reading shall not cost the others. */
export const checkFrameSchema = z.strictObject({
  ...frame,
  readings: z.array(z.unknown()).describe("What was read"),
});

/** A check as its file says it. */
export type CheckFile = z.infer<typeof checkFileSchema>;

/** JSON Schema (draft 2020-12) of the check file, as published beside the program. */
export function checkJsonSchema(): JsonSchema {
  return jsonSchemaOf(checkFileSchema);
}
