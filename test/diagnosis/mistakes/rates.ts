/** How often mistakes made on purpose are found, and told as what they are. */
import { applyCorrection, findMistakes, type Suspicion } from "../../../src/diagnosis/mistakes/index.ts";
import type { Check, Target } from "../../../src/readings/model.ts";
import type { Injected, Injection } from "./injections.ts";
import { type Fault, madeCheck } from "./made-checks.ts";

export interface Rates {
  readonly name: string;
  readonly tried: number;
  /** Some suspicion is about a wrong reading. */
  readonly detected: number;
  /** The best suspicion about it has the right kind, and its correction leads back to the honest check. */
  readonly identified: number;
  /** As before, but among the best or its alternatives. */
  readonly listed: number;
  /** A correction may be offered for use, and it is a wrong one. */
  readonly misled: number;
  /** Suspicions about readings that were right. */
  readonly others: number;
}

const FAULTS: readonly (readonly Fault[])[] = [
  [],
  ["wrong loop"],
  ["worse side"],
  ["tip trend"],
  ["wrong loop", "worse side"],
];

/** Tries until `count` checks could be given the mistake: every wing, with and without real faults. */
export function rates(name: string, injection: Injection, count: number, faults = FAULTS): Rates {
  const sum = { tried: 0, detected: 0, identified: 0, listed: 0, misled: 0, others: 0 };
  for (let seed = 1; sum.tried < count && seed < 20 * count; seed++) {
    const made = madeCheck(50_000 + seed, faults[seed % faults.length]);
    const injected = injection(made);
    if (!injected) continue;
    sum.tried++;
    const found = findMistakes(made.of.wing, injected.check);
    const about = found.filter((one) => concerns(one, injected.wrong));
    sum.others += found.length - about.length;
    const [best] = about;
    if (!best) continue;
    sum.detected++;
    const right = isRight(best, injected);
    if (right) sum.identified++;
    if ([best, ...best.alternatives].some((one) => isRight(one, injected))) sum.listed++;
    if (!right && best.offer === "correct") sum.misled++;
  }
  const { tried } = sum;
  return {
    name,
    tried,
    detected: sum.detected / tried,
    identified: sum.identified / tried,
    listed: sum.listed / tried,
    misled: sum.misled / tried,
    others: sum.others / tried,
  };
}

function isRight(one: Suspicion, injected: Injected): boolean {
  if (one.kind !== injected.kind) return false;
  if (injected.honest === undefined)
    return one.concerns.length >= injected.wrong.length && concerns(one, injected.wrong);
  return one.correction !== undefined && sameReadings(applyCorrection(injected.check, one), injected.honest);
}

function concerns(one: Suspicion, targets: readonly Target[]): boolean {
  return one.concerns.some(({ target }) => targets.some((other) => keyOf(other) === keyOf(target)));
}

/** Same datum and same values for the same targets, in any order. */
export function sameReadings(one: Check, other: Check): boolean {
  return one.from === other.from && readingsText(one) === readingsText(other);
}

function readingsText(check: Check): string {
  return check.readings
    .map(
      ({ target, valuesM }) =>
        `${keyOf(target)}: ${valuesM
          .map((value) => Math.round(value * 1e5))
          .sort((a, b) => a - b)
          .join(" ")}`,
    )
    .sort()
    .join("\n");
}

function keyOf(target: Target): string {
  return `${target.kind} ${target.side} ${target.id}`;
}

/** A table for whoever wants to see the figures: set `LINEWRIGHT_RATES` when running the tests. */
export function ratesTable(of: readonly Rates[]): string {
  const percent = (share: number): string => `${(100 * share).toFixed(1)} %`.padStart(9);
  const head = `${"mistake".padEnd(44)}${["tried", "detected", "right", "listed", "misled", "others"].map((title) => title.padStart(9)).join("")}`;
  const rows = of.map(
    (one) =>
      `${one.name.padEnd(44)}${String(one.tried).padStart(9)}${[one.detected, one.identified, one.listed, one.misled, one.others].map(percent).join("")}`,
  );
  return [head, ...rows].join("\n");
}
