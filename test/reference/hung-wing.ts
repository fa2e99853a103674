/**
 * Cascades in equilibrium hung on the ribs of a published wing: its geometry is the source's, its lines and carabiners are
 * invented. Where the ribs stand is all that is taken from the canopy; no outline of ours has a part in it.
 */
import { formCascade } from "../../src/geometry/cascade-form.ts";
import { chordShares } from "../../src/geometry/chord-load.ts";
import { pointOnRib, type RibFrame } from "../../src/geometry/outline.ts";
import { sectionHeight } from "../../src/geometry/section.ts";
import { add, distance, towards, type Vector } from "../../src/geometry/vector.ts";
import type { PlanFile, PlanLine, PlanTab, Row } from "../../src/plan/index.ts";

export interface HungWing {
  /** Ribs of the right half from the middle outwards, over the carabiners; a multiple of four. */
  readonly ribs: readonly { readonly rib: number; readonly frame: RibFrame }[];
  readonly rows: readonly { readonly row: Row; readonly chordFraction: number }[];
  readonly canopy: NonNullable<PlanFile["canopy"]>;
}

const STRAP_MM = 480;
const HALF_SPACING = 0.22;
/** How far middle and upper lines rise at the wing's middle [m]. */
const RISE = [1.15, 0.7] as const;

/** The plan: every lower line carries two middle lines with two upper lines each; lengths to the millimetre. */
export function hungPlan({ ribs, rows, canopy }: HungWing): PlanFile {
  const shares = chordShares(rows.map((row) => row.chordFraction));
  const lines: PlanLine[] = [];
  const tabs: PlanTab[] = [];
  const rootChord = (ribs[0] as HungWing["ribs"][number]).frame.chordM;
  for (const [r, { row, chordFraction }] of rows.entries()) {
    const places = ribs.map(({ frame }) =>
      pointOnRib(frame, chordFraction, sectionHeight(chordFraction, "lower")),
    );
    const loads = ribs.map(({ frame }) => scaled(frame.normal, frame.chordM * (shares[r] as number)));
    const carabiner: Vector = [0, HALF_SPACING, 0];
    const all = ribs.map((_, i) => i);
    const maillon = add(carabiner, towards(carabiner, middle(all, places, loads)), STRAP_MM / 1000);
    // The strap first, then each lower line with what it carries.
    const ids = ["strap"];
    const hangsOn = [-1];
    const tab = [-1];
    const wantedM = [STRAP_MM / 1000];
    const put = (id: string, on: number, atTab: number, wanted: number): number => {
      ids.push(id);
      hangsOn.push(on);
      tab.push(atTab);
      wantedM.push(wanted);
      return ids.length - 1;
    };
    for (let first = 0; first < ribs.length; first += 4) {
      const own = all.slice(first, first + 4);
      const slender =
        0.6 +
        (0.4 * own.reduce((sum, i) => sum + (ribs[i]?.frame.chordM as number), 0)) / own.length / rootChord;
      const name = `${row}${first / 4 + 1}`;
      const lower = put(
        name,
        0,
        -1,
        distance(maillon, middle(own, places, loads)) - slender * (RISE[0] + RISE[1]),
      );
      for (const half of [0, 1]) {
        const mid = put(`${name}.${half + 1}`, lower, -1, slender * RISE[0]);
        for (const which of [0, 1])
          put(`${name}.${half + 1}.${which + 1}`, mid, own[2 * half + which] as number, 0);
      }
    }
    const formed = formCascade({ hangsOn, tab, wantedM }, places, loads, carabiner);
    if (!formed.converged) throw new Error(`row ${row} found no equilibrium`);
    ids.forEach((id, i) => {
      if (i === 0) return;
      const on = hangsOn[i] as number;
      lines.push({
        id,
        row,
        tier: id.split(".").length,
        hangsOn: on === 0 ? row : (ids[on] as string),
        lengthMm: Math.round(1000 * (formed.lengthsM[i] as number)),
        material: "aramid",
      });
      const at = tab[i] as number;
      if (at >= 0) tabs.push({ id: `${row}${at + 1}`, row, rib: ribs[at]?.rib as number, line: id });
    });
  }
  return {
    format: "linewright-plan",
    version: 1,
    wing: { name: "Published outline, invented lines", allUpWeightKg: { min: 90, max: 110 } },
    canopy,
    materials: [{ id: "aramid", fibre: "aramid", diameterMm: 1.2 }],
    reference: { from: "maillon", tensionN: 50 },
    risers: rows.map(({ row }) => ({ id: row, lengthMm: STRAP_MM })),
    maillons: rows.map(({ row }) => ({ id: row, riser: row })),
    sides: { mirrored: { lines, tabs } },
  };
}

function scaled(vector: readonly [number, number, number], factor: number): Vector {
  return [factor * vector[0], factor * vector[1], factor * vector[2]];
}

function middle(own: readonly number[], places: readonly Vector[], loads: readonly Vector[]): Vector {
  let sum: Vector = [0, 0, 0];
  let pull = 0;
  for (const i of own) {
    const size = Math.hypot(...(loads[i] as Vector));
    sum = add(sum, places[i] as Vector, size);
    pull += size;
  }
  return scaled(sum, 1 / pull);
}
