/** Invented loop problems: lines with loops, deviations and choices drawn at random, and what a choice of states costs, told anew. */
import type { Side, Wing } from "../../src/plan/model.ts";
import type { Deviations } from "../../src/readings/model.ts";
import { defaultChoices } from "../../src/workshop/loop-plan.ts";
import type { LineLoops, LoopChoices, LoopState } from "../../src/workshop/model.ts";
import { madeDeviations } from "../diagnosis/made.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";
import { type Random, randomFrom } from "../plan/random.ts";

export interface LoopCase {
  readonly wing: Wing;
  readonly deviations: Deviations;
  readonly loops: readonly LineLoops[];
  readonly choices: LoopChoices;
}

/** Take-ups in mm: those of a 4.5 mm bar with a 1.8 mm line by the trade's formula, and any others. */
export const KINDS = ["plain", "turn", "girth", "two-turns"] as const;
export const TAKE_UPS_MM = [0, 9.9, 13.6, 19.8] as const;

export function state(kind: string, takeUpMm: number): LoopState {
  const turns = { plain: 0, turn: 1, girth: 1, "two-turns": 2 }[kind] ?? 0;
  return {
    kind: { id: kind, turns, girth: kind === "girth" },
    takeUpM: takeUpMm / 1000,
    standardUncertaintyM: takeUpMm === 0 ? 0 : 0.001,
    source: "estimate",
  };
}

/** Loops for every line on a maillon, all in the same state unless said otherwise. */
export function loopsOf(
  wing: Wing,
  present: (line: { id: string; side: Side; row: string }) => number = () => 0,
  takeUpsMm: readonly number[] = TAKE_UPS_MM,
): LineLoops[] {
  return wing.lines.flatMap((line): LineLoops[] => {
    if (line.hangsOn.kind !== "maillon") return [];
    const at = present(line);
    return [
      {
        lineKey: line.key,
        side: line.side,
        row: line.row,
        maillonId: line.hangsOn.maillonId,
        mirrorKey: line.mirrorKey,
        states: takeUpsMm.map((takeUp, i) => state(KINDS[i] as string, takeUp)),
        specified: at,
        present: at,
        presentRecorded: true,
        tabs: wing.paths.flatMap((path, tab) => (path.lineKeys[0] === line.key ? [tab] : [])),
        barAssumed: false,
      },
    ];
  });
}

export interface CaseSize {
  readonly rows: readonly ("A" | "B" | "C" | "D")[];
  readonly lowersPerRow: number;
  readonly states: number;
  /** Lines that are left in, at most. */
  readonly lines: number;
}

/** A case with every kind of choice that there is, somewhere among the seeds. */
export function randomCase(seed: number, size: CaseSize): LoopCase {
  const random = randomFrom(seed);
  const plan = samplePlan({ rows: size.rows, lowersPerRow: size.lowersPerRow, brakes: false });
  const cells = Math.max(plan.canopy?.cells ?? 0, 16 * size.lowersPerRow + 8);
  const wing = wingOf({ ...plan, canopy: { ...plan.canopy, cells } });
  const takeUps =
    random.next() < 0.5
      ? TAKE_UPS_MM
      : [0, 6 + 5 * random.next(), 12 + 5 * random.next(), 18 + 6 * random.next()];
  const symmetry = random.pick(["same", "prefer", "free"] as const);
  const unlike = random.next() < 0.3;
  const all = loopsOf(wing, () => 0, takeUps.slice(0, size.states)).map((line) => line);
  const presents = new Map<string, number>();
  for (const line of all) {
    const twin = presents.get(line.mirrorKey ?? "");
    presents.set(
      line.lineKey,
      twin !== undefined && !(unlike && random.next() < 0.4) ? twin : random.whole(0, size.states - 1),
    );
  }
  // Pairs first, so that twins stay together where lines are left out.
  const pairs = random.shuffled(all.filter((line) => line.side === "left"));
  const kept = pairs
    .flatMap((line) => [line, ...all.filter((other) => other.lineKey === line.mirrorKey)])
    .slice(0, size.lines);
  const loops = random
    .shuffled(kept)
    .map((line) => ({ ...line, present: presents.get(line.lineKey) as number }));
  const rowM = new Map(["A", "B", "C", "D", "tip"].map((row) => [row, 0.012 * (random.next() - 0.6)]));
  const lineM = new Map(loops.map((line) => [line.lineKey, 0.02 * (random.next() - 0.5)]));
  const uniformM = 0.03 * (random.next() - 0.5);
  const missing = random.next() < 0.4 ? 0.2 : 0;
  // Whole millimetres in some cases: they tie often.
  const round = random.next() < 0.3;
  const deviations = madeDeviations(wing, (path) => {
    if (random.next() < missing) return undefined;
    const sum =
      uniformM +
      (rowM.get(path.row) ?? 0) +
      (lineM.get(path.lineKeys[0] as string) ?? 0) +
      0.008 * (random.next() - 0.5);
    return round ? Math.round(1000 * sum) / 1000 : sum;
  });
  const choices: LoopChoices = {
    ...defaultChoices(wing, loops),
    symmetry,
    rowsTogether: random.next() < 0.25,
    aim: random.next() < 0.5 ? "mean" : "tolerance",
    uniformFree: random.next() < 0.75,
    worthM: random.pick([0, 0.003, 0.005, 0.01]),
    reserveM: random.next() < 0.25 ? 0.005 : 0,
    mostTakeUpM: random.next() < 0.25 ? 0.016 : undefined,
    kinds: new Set(KINDS.filter((kind) => kind === "plain" || random.next() < 0.85)),
    mayChange: new Set(loops.filter(() => random.next() < 0.85).map((line) => line.lineKey)),
    rowWeights: random.next() < 0.3 ? { A: 2, B: 0.5, D: 1.5 } : {},
  };
  return {
    wing: { ...wing, tolerances: { ...wing.tolerances, pathM: random.pick([0.003, 0.005, 0.01]) } },
    deviations,
    loops,
    choices,
  };
}

/** Whether the states are a plan at all, one index a line: the rules in the order in which a person would ask them. */
export function isPlan({ loops, choices }: LoopCase, states: readonly number[]): boolean {
  const by = (i: number): number => (states[i] as number) - (loops[i] as LineLoops).present;
  const kind = (i: number): string | undefined => loops[i]?.states[states[i] as number]?.kind.id;
  for (const [i, line] of loops.entries()) {
    if (by(i) === 0) continue;
    const end = line.states[states[i] as number];
    if (end === undefined || !choices.mayChange.has(line.lineKey) || !choices.kinds.has(end.kind.id))
      return false;
    if (end.takeUpM < choices.reserveM || end.takeUpM > (choices.mostTakeUpM ?? 1)) return false;
  }
  for (const [i, line] of loops.entries())
    for (const [j, other] of loops.entries()) {
      if (choices.rowsTogether) {
        const inStep = choices.mayChange.has(line.lineKey) && choices.mayChange.has(other.lineKey);
        const sameGroup = line.row === other.row && (choices.symmetry !== "free" || line.side === other.side);
        if (inStep && sameGroup && by(i) !== by(j)) return false;
      } else if (choices.symmetry === "same" && line.mirrorKey === other.lineKey) {
        if (kind(i) !== kind(j) && (by(i) !== 0 || by(j) !== 0)) return false;
      }
    }
  return true;
}

/** What is left of the paths [mm], with their weights, and what unlike twins cost [mm²]. */
export function leftOf({ deviations, loops, choices }: LoopCase, states: readonly number[]) {
  const left: number[] = [];
  const weights: number[] = [];
  let unlike = 0;
  loops.forEach((line, i) => {
    const end = line.states[states[i] as number] as LoopState;
    const byM = (line.states[line.present] as LoopState).takeUpM - end.takeUpM;
    for (const tab of line.tabs) {
      const deviationM = deviations.paths[tab]?.deviationM;
      if (deviationM === undefined) continue;
      left.push(1000 * (deviationM + byM));
      weights.push(choices.rowWeights[line.row] ?? 1);
    }
    const twin = loops.findIndex((other) => other.lineKey === line.mirrorKey);
    if (
      choices.symmetry === "prefer" &&
      twin > i &&
      loops[twin]?.states[states[twin] as number]?.kind.id !== end.kind.id
    )
      unlike += (1000 * choices.worthM) ** 2;
  });
  return { left, weights, unlike };
}

/** Cost of what is left with shared part c [mm²], the excess weighed by λ [mm]. */
export function costAt(
  left: readonly number[],
  weights: readonly number[],
  toleranceMm: number,
  lambda: number,
  c: number,
): number {
  let sum = 0;
  for (let i = 0; i < left.length; i++) {
    const r = (left[i] as number) - c;
    sum += (weights[i] as number) * r * r + lambda * Math.max(0, Math.abs(r) - toleranceMm);
  }
  return sum;
}

/** What the shared part may be [mm]. */
export type SharedRange = readonly [least: number, largest: number];

function weightedMean(values: readonly number[], weights: readonly number[]): number {
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return total > 0 ? values.reduce((sum, value, i) => sum + value * (weights[i] as number), 0) / total : 0;
}

/** Between nothing and what all paths share now where it may stay; nothing else where it counts. */
export function sharedRange(given: LoopCase): SharedRange {
  if (!given.choices.uniformFree) return [0, 0];
  const { left, weights } = leftOf(
    given,
    given.loops.map((line) => line.present),
  );
  const now = weightedMean(left, weights);
  return [Math.min(0, now), Math.max(0, now)];
}

/**
 * Least cost over the shared part: in closed form for squares alone; with excess by halving on the sign of the slope, which
 * knows nothing of where it changes.
 */
export function leastCost(
  left: readonly number[],
  weights: readonly number[],
  toleranceMm: number,
  lambda: number,
  [least, largest]: SharedRange,
): number {
  if (least === largest || left.length === 0) return costAt(left, weights, toleranceMm, lambda, least);
  if (lambda === 0) {
    const mean = weightedMean(left, weights);
    return costAt(left, weights, toleranceMm, 0, Math.min(Math.max(mean, least), largest));
  }
  let [low, high] = [least, largest];
  for (let n = 0; n < 60; n++) {
    const c = (low + high) / 2;
    let slope = 0;
    for (let i = 0; i < left.length; i++) {
      const r = (left[i] as number) - c;
      slope -= 2 * (weights[i] as number) * r + (Math.abs(r) > toleranceMm ? lambda * Math.sign(r) : 0);
    }
    if (slope > 0) high = c;
    else low = c;
  }
  return Math.min(
    costAt(left, weights, toleranceMm, lambda, low),
    costAt(left, weights, toleranceMm, lambda, high),
  );
}

/** Left and right exchanged: the right side has what the left one had. */
export function mirrorCase({ wing, deviations, loops, choices }: LoopCase): LoopCase {
  const tabAt = new Map(wing.tabs.map((tab, i) => [tab.key, i]));
  const twinOf = new Map(wing.lines.map((line) => [line.key, line.mirrorKey as string]));
  const lineOf = new Map(wing.lines.map((line) => [line.key, line]));
  const twinTab = (tab: number): number => tabAt.get(wing.tabs[tab]?.mirrorKey as string) as number;
  return {
    wing,
    deviations: madeDeviations(wing, (_, tab) => deviations.paths[twinTab(tab)]?.deviationM),
    loops: loops.map((line) => ({
      ...line,
      lineKey: twinOf.get(line.lineKey) as string,
      mirrorKey: line.lineKey,
      side: lineOf.get(twinOf.get(line.lineKey) as string)?.side as Side,
      tabs: line.tabs.map(twinTab),
    })),
    choices: {
      ...choices,
      mayChange: new Set([...choices.mayChange].map((key) => twinOf.get(key) as string)),
    },
  };
}

export function shuffledCase(given: LoopCase, random: Random): LoopCase {
  return {
    ...given,
    loops: random.shuffled(given.loops.map((line) => ({ ...line, tabs: random.shuffled(line.tabs) }))),
  };
}
