/**
 * A draft as it is entered: a person's words about a printed plan, in one plain value. Text and forms both become this; what
 * it means is worked out in `expand.ts`. Its zod schema is also the shape of a draft kept as JSON.
 */
import * as z from "zod";
import { type JsonSchema, jsonSchemaOf } from "../json-schema.ts";
import { ROWS, type Row } from "../model.ts";
import { planFileSchema } from "../schema.ts";

export const DRAFT_FORMAT = "linewright-draft";

/**
 * What lines are counted as in a printed table: `lower`, `middle` and `third` are lines of tier 1, 2 and 3 that carry lines;
 * `upper` are all lines that end at a tab, of whatever tier. Numbers run outwards within each, apart for every row.
 */
export const LINE_KINDS = ["lower", "middle", "third", "upper"] as const;
export type LineKind = (typeof LINE_KINDS)[number];

/** What a name begins with, by row. */
export const ROW_PREFIXES: Readonly<Record<Row, string>> = {
  A: "A",
  B: "B",
  C: "C",
  D: "D",
  tip: "T",
  brake: "BR",
};

/** Between the prefix and the number of a name: AL1, AM1, AU1; a line that ends at a tab bears the tab's name, A1. */
export const KIND_LETTERS: Readonly<Record<LineKind, string>> = {
  lower: "L",
  middle: "M",
  third: "U",
  upper: "",
};

/** What the figures of the canopy and the limits are called in a text, and their fields in the plan. */
export const CANOPY_KEYS: Readonly<Record<string, string>> = {
  "flat area": "flatAreaM2",
  "flat span": "flatSpanM",
  "projected span": "projectedSpanM",
  "projected area": "projectedAreaM2",
  cells: "cells",
  "root chord": "rootChordM",
  "tip chord": "tipChordM",
  carabiners: "carabinerSpacingM",
};
export const LIMIT_KEYS: Readonly<Record<string, string>> = {
  total: "pathMm",
  "left right": "leftRightMm",
  rows: "rowToRowMm",
  "free travel": "minBrakeFreeTravelMm",
};

/** The row that a word means: A to D, T or tip, BR or brake, in either case. */
export function rowNamed(word: string): Row | undefined {
  const plain = word.toLowerCase();
  return ROWS.find((row) => row.toLowerCase() === plain || ROW_PREFIXES[row].toLowerCase() === plain);
}

const plan = planFileSchema.shape;
const text = z.string().min(1);
const row = z.enum(ROWS);
const number = z.number().int().min(1);
const kilograms = z.number().positive().max(1000);
const target = text.describe('A row, a line by its name in the draft (AL1), or "all"');

export const draftSourceSchema = z
  .strictObject({
    format: z.literal(DRAFT_FORMAT),
    version: z.literal(1),
    wing: z
      .strictObject({
        name: text.optional(),
        size: text.optional(),
        kind: z.enum(["paraglider", "paramotor"]).optional(),
        allUpWeightKg: z.strictObject({ min: kilograms, max: kilograms }).optional(),
        note: text.optional(),
      })
      .optional()
      .describe("Which wing this is"),
    canopy: plan.canopy.describe("What is known of the canopy; all of it may be left out"),
    reference: plan.reference
      .partial()
      .optional()
      .describe("What the lengths refer to; from the riser under 50 N if left out"),
    tolerances: plan.tolerances,
    pattern: text.optional().describe("Usual pattern that stands for the rows that aren't given"),
    rows: z
      .array(
        z.strictObject({
          row: row,
          on: text
            .optional()
            .describe("Maillon; the one named as the row if left out. Brakes hang on the pulley"),
          cascade: z.string().describe('The lower lines outwards in the notation: "2+2 3+2 2+2"'),
        }),
      )
      .describe("A row's lower lines; a row named again goes on outwards, perhaps on another maillon"),
    ribs: z
      .array(z.strictObject({ row: row, list: z.string().describe('"2-26/2", "11-26", "8-18,20", "5x27"') }))
      .optional()
      .describe("Ribs of a row's tabs, outwards; every second if left out"),
    chords: z
      .array(z.strictObject({ row: row, tabs: z.array(z.number().min(0).max(1).nullable()) }))
      .optional()
      .describe("Chord fractions of single tabs, outwards; null where a tab has none of its own"),
    risers: z
      .array(z.strictObject({ id: text, lengthMm: z.number().positive().max(1500).optional() }))
      .optional(),
    maillons: plan.maillons.optional().describe("One on every riser and named as it, if left out"),
    brakes: z
      .strictObject({
        pulleyRiser: text.optional(),
        pulleyHeightMm: z.number().min(0).max(1500).optional(),
        freeTravelMm: z.number().min(0).max(1000).optional(),
      })
      .optional(),
    settings: plan.settings,
    materials: plan.materials.optional(),
    diameters: z
      .array(z.strictObject({ targets: z.array(target), mm: z.array(z.number().min(0.2).max(6)).min(1) }))
      .optional()
      .describe("Diameters by tier from the lowest line; the last one also for lines that end at a tab"),
    use: z
      .array(z.strictObject({ targets: z.array(target), materials: z.array(text).min(1) }))
      .optional()
      .describe("Materials by tier, as diameters; goes before them"),
    colours: z.array(z.strictObject({ targets: z.array(target), colour: text.nullable() })).optional(),
    loops: z
      .array(
        z.strictObject({
          targets: z.array(target),
          loop: z.strictObject({ name: text, takeUpMm: z.number().min(0).max(150) }).nullable(),
        }),
      )
      .optional()
      .describe("Loops at the maillons; null takes one away"),
    totals: z
      .array(z.strictObject({ row: row, number: number, mm: z.number() }))
      .optional()
      .describe("Path totals by tab"),
    lengths: z
      .array(z.strictObject({ row: row, kind: z.enum(LINE_KINDS), number: number, mm: z.number() }))
      .optional()
      .describe("Lengths of single lines"),
    names: z
      .array(z.strictObject({ of: z.enum(["line", "tab"]), draft: text, plan: text }))
      .optional()
      .describe("Lines and tabs that the plan calls otherwise than the draft"),
  })
  .meta({
    title: "Draft of a line plan",
    description: "A line plan as it is typed in from a printed table.",
  });

export type DraftSource = z.input<typeof draftSourceSchema>;

/** An empty draft. */
export const EMPTY_SOURCE: DraftSource = { format: DRAFT_FORMAT, version: 1, rows: [] };

/** JSON Schema of a draft in its structured form. */
export function draftJsonSchema(): JsonSchema {
  return jsonSchemaOf(draftSourceSchema);
}
