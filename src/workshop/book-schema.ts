/**
 * The loop book's file, `linewright-loops` version 1: what the bench keeps with a wing. One zod schema for the type, the
 * messages and the published JSON Schema. Millimetres and newtons, with the unit in the key.
 */
import * as z from "zod";
import { type JsonSchema, jsonSchemaOf, ROWS } from "../plan/index.ts";
import { isoDate, tensionN } from "../readings/schema.ts";
import { say } from "../words/index.ts";
import { FILE_NAMES } from "./kinds.ts";

export const BOOK_FORMAT = "linewright-loops";

/** Versions of the loop book that this program reads. */
export const BOOK_VERSIONS: readonly number[] = [1];

const text = (most: number) =>
  z
    .string()
    .min(1, { error: () => say("workshop.book.shape.empty") })
    .max(most, { error: () => say("workshop.book.shape.most", { most }) });
const side = z.enum(["left", "right"]);
const lineName = z
  .string()
  .trim()
  .min(1, { error: () => say("workshop.book.shape.line") });
const loopName = z
  .string()
  .max(200, { error: () => say("workshop.book.shape.most", { most: 200 }) })
  .regex(/\S/u, { error: () => say("workshop.book.shape.loop") });
const takeUpMm = z.number().min(0).max(150);
const lengthMm = z.number().positive().max(100_000);
const LOOP_WORDS = FILE_NAMES.map((name) => `"${name}"`).join(", ");

export const presentSchema = z
  .strictObject({
    line: lineName.describe("Line that hangs on a maillon, as the plan names it"),
    side: side.describe("The pilot's left or right"),
    loop: loopName.describe(`How its eye is hitched now: ${LOOP_WORDS}, or a name of your own`),
    takeUpMm: takeUpMm
      .optional()
      .describe(
        "What it takes up, where that was measured on this very line [mm]; needed for a name of your own",
      ),
  })
  .describe("The present loop of one line");

export const benchTakeUpSchema = z
  .strictObject({
    loop: loopName.describe(`Which loop was measured: ${LOOP_WORDS}, or a name of your own`),
    barDiameterMm: z.number().min(1).max(15).describe("Diameter of the bar that it was tied on [mm]"),
    lineDiameterMm: z.number().min(0.2).max(6).describe("Diameter of the line [mm]"),
    takeUpMm: takeUpMm.describe(
      "Length with a plain eye less length with the loop, under equal tension [mm]",
    ),
    standardUncertaintyMm: z
      .number()
      .min(0)
      .max(50)
      .optional()
      .describe("Standard uncertainty of this take-up [mm]; a usual one if left out"),
    date: isoDate.optional().describe("Day of the measurement"),
    note: text(2000).optional().describe("Anything worth remembering about it"),
  })
  .describe("A take-up measured on the bench; several of one loop, bar and line are averaged");

export const choiceLineSchema = z
  .strictObject({
    line: lineName.describe("Line that may change, as the plan names it"),
    side: side.optional().describe("The pilot's left or right; both if left out"),
  })
  .describe("A line that may change");

const choiceFields = {
  rows: z
    .array(z.enum(ROWS))
    .optional()
    .describe("Rows of which every line that hangs on a maillon may change"),
  kinds: z.array(loopName).describe("Loops that may be tied; a line's present one is always allowed"),
  mostTakeUpMm: takeUpMm.optional().describe("Most that a loop may take up, by the maker's manual [mm]"),
  reserveMm: takeUpMm.describe("Least take-up that a changed line keeps, to be taken out later [mm]"),
  symmetry: z
    .enum(["same", "prefer", "free"])
    .describe(
      "How left and right belong together: a line and its twin in the same state, preferably, or each on its own",
    ),
  rowsTogether: z.boolean().describe("Whether all lines of a row go by the same number of states"),
  aim: z
    .enum(["mean", "tolerance"])
    .describe("What comes first: the mean square of what is left, or what is left beyond the tolerance"),
  uniformFree: z.boolean().describe("Whether a part that all main rows share may stay"),
  worthMm: z
    .number()
    .min(0)
    .max(100)
    .describe("How far off a single path must be to be worth one change [mm]"),
  mostChanges: z.number().int().min(0).max(1000).optional().describe("Most changes; no limit if left out"),
  rowWeights: z
    .partialRecord(z.enum(ROWS), z.number().min(0).max(1000))
    .optional()
    .describe("Weight of a row's paths; 1 for a row that is left out"),
};
const describedChoices = <S extends z.ZodType>(schema: S): S =>
  schema.describe("Your choices for a loop plan");

/** Choices with their lines not yet looked at: one bad line shall not cost the rest. */
export const choicesFrameSchema = z.strictObject({
  ...choiceFields,
  lines: z.array(z.unknown()).optional().describe("Lines that may change besides those rows"),
});

const choicesSchema = describedChoices(
  z.strictObject({
    ...choiceFields,
    lines: z.array(choiceLineSchema).optional().describe("Lines that may change besides those rows"),
  }),
);

export const maillonSchema = z
  .strictObject({
    maillon: z
      .string()
      .trim()
      .min(1, { error: () => say("workshop.book.shape.maillon") })
      .describe("Maillon, as the plan names it"),
    side: side.describe("The pilot's left or right"),
    order: z.array(lineName).min(1).describe("Lines on it, in the order in which they sit on the bar"),
    loops: z
      .array(loopName)
      .describe(`The loop of each, in the same order: ${LOOP_WORDS}, or a name of your own`),
    recorded: isoDate.optional().describe("Day on which this was recorded"),
    closed: z.array(lineName).optional().describe("Lines that are ticked off as back in place"),
  })
  .describe("What hangs on a maillon, recorded before it is opened");

export const replacementSchema = z
  .strictObject({
    line: lineName.describe("Line that is replaced, as the plan names it"),
    sides: z.array(side).min(1).max(2).describe("On which sides"),
    date: isoDate.optional().describe("Day of the replacement"),
    oldMm: lengthMm.optional().describe("Length of the old line on the bench [mm]"),
    newMm: lengthMm.optional().describe("Length of the new line under the same tension [mm]"),
    tensionN: tensionN.optional().describe("Tension that both were measured under [N]"),
    loop: loopName.optional().describe(`Loop that the new line got: ${LOOP_WORDS}, or a name of your own`),
    note: text(2000).optional().describe("Anything worth remembering about it"),
  })
  .describe("A line that was or is to be replaced");

const head = {
  format: z.literal(BOOK_FORMAT).describe("Kind of file"),
  version: z.literal(1).describe("Version of the format"),
  wing: text(200).optional().describe("Name of the wing, as its plan has it"),
};
const listOf = {
  present: <S extends z.ZodType>(entry: S) =>
    z
      .array(entry)
      .optional()
      .describe("Present loops, where they were recorded; other lines are taken to be as the plan specifies"),
  benchTakeUps: <S extends z.ZodType>(entry: S) =>
    z
      .array(entry)
      .optional()
      .describe("Take-ups measured on the bench; they replace the geometric estimates"),
  maillons: <S extends z.ZodType>(entry: S) =>
    z.array(entry).optional().describe("What hangs on the maillons, recorded before they are opened"),
  replacements: <S extends z.ZodType>(entry: S) =>
    z.array(entry).optional().describe("Lines that were or are to be replaced"),
};

/** The whole file. */
export const loopBookSchema = z
  .strictObject({
    ...head,
    present: listOf.present(presentSchema),
    benchTakeUps: listOf.benchTakeUps(benchTakeUpSchema),
    choices: choicesSchema.optional(),
    maillons: listOf.maillons(maillonSchema),
    replacements: listOf.replacements(replacementSchema),
  })
  .meta({
    title: "Loops of a paraglider's lines",
    description:
      "What the bench keeps with a wing: present loops, measured take-ups, choices, maillons, replacements. Lengths in millimetres. No clearance to fly.",
  });

/** The file with its entries not yet looked at: one bad entry shall not cost the others. */
export const loopBookFrameSchema = z.strictObject({
  ...head,
  present: listOf.present(z.unknown()),
  benchTakeUps: listOf.benchTakeUps(z.unknown()),
  choices: describedChoices(z.unknown().optional()),
  maillons: listOf.maillons(z.unknown()),
  replacements: listOf.replacements(z.unknown()),
});

/** A loop book as its file says it. */
export type LoopBookFile = z.input<typeof loopBookSchema>;
export type ChoicesFile = NonNullable<LoopBookFile["choices"]>;

/** JSON Schema (draft 2020-12) of the loop book's file, as published beside the program. */
export function loopBookJsonSchema(): JsonSchema {
  return jsonSchemaOf(loopBookSchema);
}
