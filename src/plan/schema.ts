/**
 * The plan file's shape: one zod schema, from which the TypeScript type, the messages and the published JSON
 * Schema all come. Units stand in the key names. Only what a single field can tell is checked here; what the
 * fields say together is checked in `validate.ts`.
 */
import * as z from "zod";
import { say } from "../words/index.ts";
import { ROWS } from "./model.ts";

export const PLAN_FORMAT = "linewright-plan";

/** Versions of the plan file that this program reads. */
export const PLAN_VERSIONS: readonly number[] = [1];

/** What `hangsOn` says of a lowest brake line. */
export const PULLEY = "pulley";

const id = z
  .string()
  .min(1, { error: () => say("plan.shape.id") })
  .regex(/^\S(.*\S)?$/, { error: () => say("plan.shape.id-spaces") });
const text = z.string().min(1, { error: () => say("plan.shape.some-text") });
const row = z.enum(ROWS);
const positive = (max: number) => z.number().positive().max(max);

const wingSchema = z
  .strictObject({
    name: text.describe("Name of the wing"),
    size: text.optional().describe("Size as its maker writes it"),
    kind: z.enum(["paraglider", "paramotor"]).optional().describe("Kind of wing; paraglider if left out"),
    allUpWeightKg: z
      .strictObject({
        min: positive(1000).describe("Lowest all-up weight [kg]"),
        max: positive(1000).describe("Highest all-up weight [kg]"),
      })
      .describe("Range of the all-up weight: pilot, clothing, harness and wing [kg]"),
    note: text.optional().describe("Anything worth remembering about the wing"),
  })
  .describe("Which wing this is");

const canopySchema = z
  .strictObject({
    flatAreaM2: positive(150).optional().describe("Area laid out flat [m²]"),
    flatSpanM: positive(40).optional().describe("Span laid out flat [m]"),
    projectedSpanM: positive(40).optional().describe("Span in flight, seen from above [m]"),
    projectedAreaM2: positive(150).optional().describe("Area in flight, seen from above [m²]"),
    cells: z.number().int().min(3).max(200).optional().describe("Number of cells, both sides together"),
    rootChordM: positive(8).optional().describe("Chord in the middle [m]"),
    tipChordM: positive(8).optional().describe("Chord at the tip [m]"),
    rowChordFractions: z
      .partialRecord(row, z.number().min(0).max(1))
      .optional()
      .describe("Where each row's tabs lie: distance from the leading edge over the chord, 0 to 1"),
    carabinerSpacingM: z
      .number()
      .min(0.2)
      .max(1.2)
      .optional()
      .describe("Distance between the two main carabiners [m]"),
  })
  .describe("What is known of the canopy; all of it may be left out and is then estimated");

const materialSchema = z
  .strictObject({
    id: id.describe("Name of the material, as the lines refer to it"),
    fibre: text.optional().describe("Fibre of the core: aramid, HMPE, LCP, polyester"),
    diameterMm: z.number().min(0.2).max(6).describe("Outer diameter [mm]"),
    stiffnessEaN: positive(5_000_000).optional().describe("Axial stiffness EA [N]; takes precedence"),
    modulusGPa: positive(500)
      .optional()
      .describe("Modulus over the whole section [GPa]; EA is this times the section's area"),
    massGPerM: positive(50).optional().describe("Mass per length [g/m]; estimated if left out"),
    breakingForceN: positive(100_000).optional().describe("Breaking force, new and unbent [N]"),
  })
  .describe("One kind of line; if no stiffness can be had from it, a usual one for its diameter is taken");

const referenceSchema = z
  .strictObject({
    from: z
      .enum(["riser", "maillon"])
      .describe(
        "Where specified totals begin: the riser's base (main carabiner) or the maillon's inner edge",
      ),
    tensionN: positive(1000).describe("Tension at which the specified lengths hold [N]; 50 is usual"),
    trimmerMm: z
      .number()
      .min(-400)
      .max(400)
      .optional()
      .describe("Trimmer setting at which they hold [mm]; 0 is closed"),
    note: text.optional().describe("Anything worth knowing about how the lengths were stated"),
  })
  .describe("What the specified lengths refer to");

const tolerancesSchema = z
  .strictObject({
    pathMm: positive(200)
      .optional()
      .describe("Largest deviation of a total from the plan [mm]; 10 if left out"),
    leftRightMm: positive(200)
      .optional()
      .describe("Largest difference of a total, left against right [mm]; 5 if left out"),
    rowToRowMm: positive(200)
      .optional()
      .describe("Largest difference of the rows' mean deviations [mm]; 10 if left out"),
    minBrakeFreeTravelMm: positive(500)
      .optional()
      .describe("Least free travel of the brake before the trailing edge moves [mm]; 50 if left out"),
    source: text.optional().describe("Where these limits come from, for instance the maker's manual"),
  })
  .describe("Your limits. The maker's manual decides; what is left out is common practice, no standard");

const riserSchema = z
  .strictObject({
    id: id.describe("Name of the riser strap"),
    lengthMm: positive(1500).describe("From the main carabiner to the maillon's inner edge [mm]"),
  })
  .describe("One riser strap, the same on both sides");

const maillonSchema = z
  .strictObject({
    id: id.describe("Name of the maillon, as the lowest lines refer to it"),
    riser: id.describe("Id of the riser strap that it sits on"),
    barDiameterMm: z.number().min(1).max(15).optional().describe("Diameter of its bar [mm]"),
  })
  .describe("One maillon, the same on both sides; several may sit on one riser");

const brakesSchema = z
  .strictObject({
    pulleyRiser: id.describe("Id of the riser strap that carries the pulley"),
    pulleyHeightMm: z.number().min(0).max(1500).describe("Pulley above the carabiner, along the strap [mm]"),
    freeTravelMm: z
      .number()
      .min(0)
      .max(1000)
      .describe("Pull of the handle before the trailing edge moves [mm]"),
  })
  .describe("The brakes; needed where there are brake lines");

const settingSchema = z
  .strictObject({
    id: id.describe("Short name of the setting, unique"),
    name: text.describe('What it is called, "trimmers open"'),
    kind: z.enum(["trimmer", "speed"]).describe("A trimmer or the speed system"),
    strapChangesMm: z
      .record(z.string(), z.number().min(-400).max(400))
      .describe("Riser id and how much longer (+) or shorter (−) its strap is at full travel [mm]"),
  })
  .describe("A trimmer or speed system, as changes of the riser straps against the reference setting");

const lineSchema = z
  .strictObject({
    id: id.describe("Name of the line, as the plan writes it; unique within a side"),
    row: row.describe("Row: A (front) to D (rear), tip, or brake"),
    tier: z.number().int().min(1).max(4).describe("1 for a lower line, counted upwards, at most 4"),
    hangsOn: id.describe(
      'Id of the maillon or line that its lower end is fixed to, or "pulley"; a maillon of that name goes before a line',
    ),
    carries: z
      .array(id)
      .optional()
      .describe("Ids of the lines and tabs at its upper end; may be left out, is compared if given"),
    lengthMm: z
      .number()
      .positive()
      .optional()
      .describe(
        "Specified length at the reference tension, before a loop takes any up [mm]; may be left out where every tab above has pathMm, and is then assumed",
      ),
    material: id.describe("Id of its material"),
    colour: text.optional().describe("Colour of the sheath"),
    loop: z
      .strictObject({
        name: text.describe("How the eye is hitched on the maillon"),
        takeUpMm: z.number().min(0).max(150).describe("Length that this takes up [mm]"),
      })
      .optional()
      .describe("Loop at the maillon; leave out for a plain eye"),
  })
  .describe("One line");

const tabSchema = z
  .strictObject({
    id: id.describe("Name of the tab, unique among the tabs of a side"),
    row: row.describe("Row: A (front) to D (rear), tip, or brake"),
    rib: z
      .number()
      .int()
      .min(1)
      .max(200)
      .describe("Rib, counted outwards from the wing's middle, 1 the innermost"),
    chordFraction: z
      .number()
      .min(0)
      .max(1)
      .optional()
      .describe("Distance from the leading edge over the chord, 0 to 1; the row's if left out"),
    line: id.describe("Id of the line that ends here"),
    pathMm: positive(50_000)
      .optional()
      .describe(
        "Total from the reference point to here as the plan states it [mm]; compared with the lines' sum, or where lines have no length, what these follow from",
      ),
  })
  .describe("One tab: where a line meets the canopy");

const halfSchema = z
  .strictObject({
    lines: z.array(lineSchema).min(1).describe("All lines of the half"),
    tabs: z.array(tabSchema).min(1).describe("All tabs of the half"),
  })
  .meta({ id: "Half", description: "The lines and tabs of one half of the wing" });

/** The whole plan file, version 1. */
export const planFileSchema = z
  .strictObject({
    format: z.literal(PLAN_FORMAT).describe("Says that this is a plan file"),
    version: z.literal(1).describe("Version of the file's format"),
    wing: wingSchema,
    canopy: canopySchema.optional(),
    materials: z.array(materialSchema).min(1).describe("The kinds of line in use"),
    reference: referenceSchema,
    tolerances: tolerancesSchema.optional(),
    risers: z.array(riserSchema).min(1).describe("The riser straps of one side"),
    maillons: z.array(maillonSchema).min(1).describe("The maillons of one side"),
    brakes: brakesSchema.optional(),
    settings: z.array(settingSchema).optional().describe("Trimmers and speed system"),
    sides: z
      .union([
        z.strictObject({ mirrored: halfSchema.describe("One half that holds for both sides") }),
        z.strictObject({
          left: halfSchema.describe("The pilot's left"),
          right: halfSchema.describe("The pilot's right"),
        }),
      ])
      .describe('Either "mirrored", one half that holds for both sides, or both "left" and "right"'),
  })
  .meta({
    title: "Line plan of a paraglider",
    description: "The specified lines of one wing: risers, maillons, lines, tabs. Lengths in millimetres.",
  });

/** A plan file as it may stand in JSON: lines whose length follows from the totals can be without one. */
export type SparsePlanFile = z.input<typeof planFileSchema>;
export type SparsePlanHalf = z.input<typeof halfSchema>;
export type SparsePlanLine = z.input<typeof lineSchema>;

/** A plan file in which every line has its length. */
export type PlanLine = SparsePlanLine & { lengthMm: number };
export type PlanHalf = Omit<SparsePlanHalf, "lines"> & { lines: PlanLine[] };
export type PlanFile = Omit<SparsePlanFile, "sides"> & {
  sides: { mirrored: PlanHalf } | { left: PlanHalf; right: PlanHalf };
};
export type PlanTab = z.input<typeof tabSchema>;
export type PlanMaterial = z.input<typeof materialSchema>;
