/** A seeded random source for property tests: the same seed gives the same plans on every machine. */
import type { PlanFile, PlanHalf, PlanLine, PlanTab } from "../../src/plan/index.ts";
import { samplePlan } from "./factory.ts";

export interface Random {
  /** Between 0 and 1. */
  readonly next: () => number;
  /** Whole, from low to high inclusive. */
  readonly whole: (low: number, high: number) => number;
  readonly pick: <T>(list: readonly T[]) => T;
  readonly shuffled: <T>(list: readonly T[]) => T[];
}

/** Mulberry32. */
export function randomFrom(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const whole = (low: number, high: number): number => low + Math.floor(next() * (high - low + 1));
  const pick = <T>(list: readonly T[]): T => list[whole(0, list.length - 1)] as T;
  const shuffled = <T>(list: readonly T[]): T[] => {
    const copy = [...list];
    for (let i = copy.length - 1; i > 0; i--) {
      const j = whole(0, i);
      [copy[i], copy[j]] = [copy[j] as T, copy[i] as T];
    }
    return copy;
  };
  return { next, whole, pick, shuffled };
}

/** A sound half with random cascades: one to four tiers, one to three lines or tabs on each, lengths to a tenth of a mm. */
export function randomHalf(
  random: Random,
  rows: readonly ("A" | "B" | "C" | "D")[],
  materials: readonly string[],
): PlanHalf {
  const lines: PlanLine[] = [];
  const tabs: PlanTab[] = [];
  for (const row of rows) {
    let rib = 0;
    const grow = (hangsOn: string, name: string, tier: number): void => {
      const atMaillon = tier === 1;
      lines.push({
        id: name,
        row,
        tier,
        hangsOn,
        lengthMm: random.whole(3000, 60_000) / 10,
        material: random.pick(materials),
        ...(random.next() < 0.3 ? { colour: random.pick(["red", "blue", "natural"]) } : {}),
        ...(atMaillon && random.next() < 0.5
          ? { loop: { name: "girth hitch", takeUpMm: random.whole(0, 200) / 10 } }
          : {}),
      });
      if (tier < 4 && random.next() < 0.6) {
        for (let fork = random.whole(1, 3); fork > 0; fork--) grow(name, `${name}/${fork}`, tier + 1);
      } else {
        rib++;
        const fraction =
          random.next() < 0.3 ? { chordFraction: { A: 0.1, B: 0.3, C: 0.5, D: 0.7 }[row] } : {};
        tabs.push({ id: `${row}-${rib}`, row, rib, line: name, ...fraction });
      }
    };
    for (let lower = random.whole(1, 3); lower > 0; lower--) grow(`maillon ${row}`, `${row}${lower}`, 1);
  }
  return { lines, tabs };
}

/** A sound plan with two to four rows, both sides drawn apart or one half for both. */
export function randomPlan(random: Random): PlanFile {
  const rows = (["A", "B", "C", "D"] as const).slice(0, random.whole(2, 4));
  const base = samplePlan({ rows, brakes: false, tip: false, from: random.pick(["riser", "maillon"]) });
  const names = base.materials.map((material) => material.id);
  const half = (): PlanHalf => randomHalf(random, rows, names);
  const { canopy: _canopy, ...rest } = base;
  return {
    ...rest,
    materials: base.materials.map((material) => ({ ...material, diameterMm: random.whole(5, 25) / 10 })),
    risers: rows.map((row) => ({ id: row, lengthMm: random.whole(3000, 6000) / 10 })),
    maillons: rows.map((row) => ({ id: `maillon ${row}`, riser: row })),
    sides: random.next() < 0.5 ? { mirrored: half() } : { left: half(), right: half() },
  };
}
