/**
 * Plans to test with: an invented wing of four rows, three tiers, a tip line on B's riser and brakes. Lengths are
 * round figures of a usual medium wing, not any wing's.
 */
import type { Wing } from "../../src/plan/index.ts";
import {
  type PlanFile,
  type PlanHalf,
  type PlanLine,
  type PlanTab,
  parsePlan,
} from "../../src/plan/index.ts";

export interface FactoryOptions {
  /** Rows besides tip and brake; four by default. */
  readonly rows?: readonly ("A" | "B" | "C" | "D")[];
  /** Lower lines a row and side; each carries two middle lines with two upper lines each. */
  readonly lowersPerRow?: number;
  readonly from?: "riser" | "maillon";
  readonly brakes?: boolean;
  readonly tip?: boolean;
}

const MATERIALS = { lower: "sheathed 1.5", middle: "sheathed 1.1", upper: "bare 0.7" } as const;
const LOWER_MM = { A: 4600, B: 4550, C: 4620, D: 4730 } as const;
const FRACTIONS = { A: 0.1, B: 0.3, C: 0.52, D: 0.73 } as const;

/** One half: `A1` is the innermost lower line, `A1.2` its outer middle line, `A1.2.1` an upper line; tabs `A1`… */
export function halfPlan(options: FactoryOptions = {}): PlanHalf {
  const { rows = ["A", "B", "C", "D"], lowersPerRow = 2, brakes = true, tip = true } = options;
  const lines: PlanLine[] = [];
  const tabs: PlanTab[] = [];
  for (const row of rows) {
    for (let lower = 1; lower <= lowersPerRow; lower++) {
      const lowerId = `${row}${lower}`;
      lines.push({
        id: lowerId,
        row,
        tier: 1,
        hangsOn: row,
        lengthMm: LOWER_MM[row] - 60 * (lower - 1),
        material: MATERIALS.lower,
        colour: "red",
        ...(row === "A" ? { loop: { name: "girth hitch", takeUpMm: 13 } } : {}),
      });
      for (const middle of [1, 2]) {
        const middleId = `${lowerId}.${middle}`;
        lines.push({
          id: middleId,
          row,
          tier: 2,
          hangsOn: lowerId,
          lengthMm: 1900 - 15 * middle,
          material: MATERIALS.middle,
        });
        for (const upper of [1, 2]) {
          const number = (lower - 1) * 4 + (middle - 1) * 2 + upper;
          const upperId = `${middleId}.${upper}`;
          lines.push({
            id: upperId,
            row,
            tier: 3,
            hangsOn: middleId,
            lengthMm: 460 - 10 * upper,
            material: MATERIALS.upper,
          });
          tabs.push({ id: `${row}${number}`, row, rib: 2 * number, line: upperId });
        }
      }
    }
  }
  if (tip) {
    lines.push({
      id: "T1",
      row: "tip",
      tier: 1,
      hangsOn: "B tip",
      lengthMm: 5400,
      material: MATERIALS.middle,
    });
    for (const upper of [1, 2]) {
      lines.push({
        id: `T1.${upper}`,
        row: "tip",
        tier: 2,
        hangsOn: "T1",
        lengthMm: 820 + 15 * upper,
        material: MATERIALS.upper,
      });
      tabs.push({
        id: `T${upper}`,
        row: "tip",
        rib: 8 * lowersPerRow + 1 + upper,
        chordFraction: 0.3,
        line: `T1.${upper}`,
      });
    }
  }
  if (brakes) {
    lines.push({
      id: "K1",
      row: "brake",
      tier: 1,
      hangsOn: "pulley",
      lengthMm: 2400,
      material: MATERIALS.lower,
    });
    for (const middle of [1, 2]) {
      lines.push({
        id: `K1.${middle}`,
        row: "brake",
        tier: 2,
        hangsOn: "K1",
        lengthMm: 2900 - 30 * middle,
        material: MATERIALS.middle,
      });
      for (const upper of [1, 2]) {
        const number = (middle - 1) * 2 + upper;
        lines.push({
          id: `K1.${middle}.${upper}`,
          row: "brake",
          tier: 3,
          hangsOn: `K1.${middle}`,
          lengthMm: 1650 - 20 * upper,
          material: MATERIALS.upper,
        });
        tabs.push({ id: `K${number}`, row: "brake", rib: 3 * number, line: `K1.${middle}.${upper}` });
      }
    }
  }
  return { lines, tabs };
}

/** A plan file without any problem, the half given once. A fresh value every time, free to be changed. */
export function samplePlan(options: FactoryOptions = {}): PlanFile & { sides: { mirrored: PlanHalf } } {
  const { rows = ["A", "B", "C", "D"], brakes = true, tip = true } = options;
  return {
    format: "linewright-plan",
    version: 1,
    wing: { name: "Morning Bench", size: "26", kind: "paraglider", allUpWeightKg: { min: 80, max: 105 } },
    canopy: {
      flatAreaM2: 26,
      flatSpanM: 11.6,
      projectedSpanM: 9.1,
      projectedAreaM2: 22,
      cells: 46,
      rootChordM: 2.75,
      tipChordM: 0.6,
      rowChordFractions: {
        ...Object.fromEntries(rows.map((row) => [row, FRACTIONS[row]])),
        tip: 0.3,
        brake: 1,
      },
      carabinerSpacingM: 0.44,
    },
    materials: [
      {
        id: MATERIALS.lower,
        fibre: "aramid",
        diameterMm: 1.5,
        stiffnessEaN: 40_000,
        massGPerM: 1.6,
        breakingForceN: 1600,
      },
      { id: MATERIALS.middle, fibre: "aramid", diameterMm: 1.1, breakingForceN: 1000 },
      { id: MATERIALS.upper, fibre: "HMPE", diameterMm: 0.7 },
    ],
    reference: { from: options.from ?? "riser", tensionN: 50 },
    risers: rows.map((row) => ({ id: row, lengthMm: 470 })),
    maillons: [
      ...rows.map((row) => ({ id: row, riser: row, barDiameterMm: 4.5 })),
      ...(tip ? [{ id: "B tip", riser: "B" }] : []),
    ],
    ...(brakes
      ? { brakes: { pulleyRiser: rows[rows.length - 1] ?? "A", pulleyHeightMm: 200, freeTravelMm: 60 } }
      : {}),
    sides: { mirrored: halfPlan(options) },
  };
}

/** The sample plan with both sides spelled out. */
export function sampleBothSides(
  options: FactoryOptions = {},
): PlanFile & { sides: { left: PlanHalf; right: PlanHalf } } {
  return { ...samplePlan(options), sides: { left: halfPlan(options), right: halfPlan(options) } };
}

/** The wing of a plan that is expected to be sound. Throws with the messages if it isn't. */
export function wingOf(plan: unknown): Wing {
  const parsed = parsePlan(plan);
  if (!parsed.ok)
    throw new Error(parsed.problems.map((problem) => `${problem.where}: ${problem.message}`).join("\n"));
  return parsed.value;
}
