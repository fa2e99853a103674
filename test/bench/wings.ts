/** Wings to be timed: the demonstration's two, and its school wing with any number of ribs. */
import { LIGHT_WING } from "../../src/demo/light-wing.ts";
import { makeWing } from "../../src/demo/make-plan.ts";
import { SCHOOL_WING } from "../../src/demo/school-wing.ts";
import type { Branch, WingSpec } from "../../src/demo/wing-spec.ts";
import { buildWingModel } from "../../src/geometry/build.ts";
import type { WingModel } from "../../src/geometry/model.ts";
import { wingFromPlan } from "../../src/plan/build.ts";

/** Ribs a side at which the school wing has about so many members. */
export const RIBS_BY_SIZE: Readonly<Record<number, number>> = {
  100: 2,
  300: 5,
  1000: 17,
  3000: 50,
  10000: 167,
};

/** Ribs a side of the school wing as it is. */
const SCHOOL_RIBS = 13;

/**
 * The school wing with another number of ribs a side on the same outline: four rows, on each a lower line for every four
 * ribs with two middle lines, and a brake fan of four tiers over the outer six tenths. The weight goes with the ribs, so
 * that a tab carries what it carries on the wing as it is. No plan's limits are asked, a plan ends far below 10,000 members.
 */
export function wingOfRibs(ribs: number): WingModel {
  const walls = Array.from({ length: ribs }, (_, i) => 2 * (i + 1));
  const rows = grouped(grouped(walls, 2), 2);
  const brakeWalls = walls.flatMap((wall) => [wall - 1, wall]).filter((wall) => wall >= 0.8 * ribs);
  const brakes = grouped(grouped(grouped(brakeWalls, 2), 2), 4);
  const share = ribs / SCHOOL_RIBS;
  const { min, max } = SCHOOL_WING.wing.allUpWeightKg;
  const spec: WingSpec = {
    ...SCHOOL_WING,
    wing: { ...SCHOOL_WING.wing, allUpWeightKg: { min: min * share, max: max * share } },
    cells: 4 * ribs + 4,
    formedAtKg: SCHOOL_WING.formedAtKg * share,
    rows: SCHOOL_WING.rows
      .filter((row) => row.row !== "tip")
      .map((row) => ({ ...row, lowerLines: row.row === "brake" ? brakes : rows })),
  };
  return buildWingModel(wingFromPlan(makeWing(spec)));
}

export function demoWings(): { name: string; model: WingModel }[] {
  return [LIGHT_WING, SCHOOL_WING].map((spec) => ({
    name: spec.wing.name,
    model: buildWingModel(wingFromPlan(makeWing(spec))),
  }));
}

/** Groups of a size; a single one left over joins the last group. */
function grouped(branches: readonly Branch[], size: number): Branch[] {
  const groups: Branch[][] = [];
  for (const branch of branches) {
    const last = groups[groups.length - 1];
    if (!last || last.length === size) groups.push([branch]);
    else last.push(branch);
  }
  const last = groups[groups.length - 1];
  if (groups.length > 1 && last?.length === 1) {
    groups.pop();
    groups[groups.length - 1]?.push(...last);
  }
  return groups;
}
