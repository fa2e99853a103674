/** Reading sessions as an honest hand would hold them, on the demo wings and on wings made at random; and slips made on purpose. */

import { DEMOS } from "../../../src/demo/index.ts";
import { type Random, seededRandom } from "../../../src/demo/random.ts";
import { type PlausibleOptions, plausibleNow } from "../../../src/diagnosis/session/index.ts";
import type { PlanFile, PlanHalf } from "../../../src/plan/index.ts";
import { lookUp } from "../../../src/readings/index.ts";
import type { Check, Reading, Target } from "../../../src/readings/model.ts";
import {
  type Judge,
  keyOfTarget,
  makeOrder,
  type SoFar,
  type Verdict,
} from "../../../src/readings/session/index.ts";
import { wingOf } from "../../plan/factory.ts";
import { CASES, type Case, type Fault, type Made, madeCheck, pick } from "../mistakes/made-checks.ts";

/** One of the demo wings in another size, its rows and lines of other lengths, so that no figure is known beforehand. */
export function randomCase(seed: number): Case {
  const random = seededRandom(seed * 104_729 + 3);
  const plan: PlanFile = structuredClone(random.even() < 0.5 ? DEMOS.school.plan : DEMOS.second.plan);
  const size = 0.7 + 0.5 * random.even();
  const rows = new Map<string, number>();
  const halves = Object.values(plan.sides) as PlanHalf[];
  for (const half of halves) {
    for (const line of half.lines) {
      const row = rows.get(line.row) ?? 1 + 0.03 * random.normal();
      rows.set(line.row, row);
      if (line.lengthMm !== undefined)
        line.lengthMm = Math.round(line.lengthMm * size * row * (1 + 0.004 * random.normal()));
    }
    for (const tab of half.tabs) delete tab.pathMm;
  }
  const wing = wingOf(plan);
  return { name: `random ${seed}`, plan, wing, lookup: lookUp(wing) };
}

export interface MadeSession {
  readonly made: Made;
  /** The honest readings in the order of the session. */
  readonly readings: readonly Reading[];
  readonly judge: Judge;
}

const NAMES = ["rows", "sides", "pairs", "maillons"] as const;

export function madeSession(
  seed: number,
  faults: readonly Fault[] = [],
  lastCheck = false,
  options: PlausibleOptions = {},
): MadeSession {
  const of = seed % 2 === 0 ? (CASES[(seed / 2) % CASES.length] as Case) : randomCase(seed);
  const made = madeCheck(90_000 + seed, faults, of);
  const order = makeOrder(of.wing, NAMES[seed % NAMES.length] as (typeof NAMES)[number], {
    brakes: seed % 3 === 0 ? "first" : "last",
  });
  const byKey = new Map(made.check.readings.map((reading) => [keyOfTarget(reading.target), reading]));
  const readings = order.steps.flatMap(({ target }) => byKey.get(keyOfTarget(target)) ?? []);
  const judge = plausibleNow(of.wing, lastCheck ? { ...options, lastCheck: earlier(made) } : options);
  return { made, readings, judge };
}

/** The check before: each path some millimetres longer than now, read with its own scatter. */
function earlier({ check, random }: Made): Check {
  return {
    ...check,
    date: "2025-03-14",
    readings: check.readings.map((reading) => ({
      ...reading,
      valuesM: [(reading.valuesM[0] as number) + Math.round(2 + 2 * random.normal()) / 1000],
    })),
  };
}

function before({ made, readings }: MadeSession, count: number): SoFar {
  const { readings: _, ...frame } = made.check;
  return { frame, readings: readings.slice(0, count) };
}

export interface Alarms {
  readonly readings: number;
  readonly alarms: number;
}

/** Honest readings that are asked for again; once asked they are confirmed. */
export function alarmsIn(session: MadeSession): Alarms {
  let alarms = 0;
  session.readings.forEach((reading, i) => {
    const verdict = session.judge.judge(before(session, i), reading.target, reading.valuesM.slice(0, 1));
    if (verdict.level !== "fine") alarms++;
  });
  return { readings: session.readings.length, alarms };
}

/** A number typed wrongly; undefined where the slip can't be made, or changes too little. */
export type Slip = (mm: number, random: Random, session: MadeSession, at: number) => number | undefined;

const digits = (mm: number): string => String(mm);
const replaceDigit = (mm: number, place: number, random: Random): number => {
  const digit = Math.floor(mm / place) % 10;
  const others = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9].filter((other) => Math.abs(other - digit) > 1);
  return mm + (pick(random, others) - digit) * place;
};
const valueNear =
  (wanted: (one: Target, other: Target, session: MadeSession) => boolean): Slip =>
  (_, random, session, at) => {
    const own = session.readings[at] as Reading;
    const others = session.readings.filter(({ target }) => wanted(own.target, target, session));
    const [other] = others;
    return other && Math.round(1000 * ((other.valuesM[0] as number) + 0.0012 * random.normal()));
  };
const tabOf = (session: MadeSession, target: Target) =>
  session.made.of.wing.tabs.find(({ id, side }) => id === target.id && side === target.side);

export const SLIPS: Readonly<Record<string, Slip>> = {
  "ten off": (mm, random) => mm + (random.even() < 0.5 ? -10 : 10),
  "hundred off": (mm, random) => mm + (random.even() < 0.5 ? -100 : 100),
  "thousand off": (mm, random) => mm + (random.even() < 0.5 ? -1000 : 1000),
  "tens digit": (mm, random) => replaceDigit(mm, 10, random),
  "hundreds digit": (mm, random) => replaceDigit(mm, 100, random),
  transposed: (mm, random) => {
    const text = digits(mm);
    const at = random.below(text.length - 1);
    return Number(text.slice(0, at) + text[at + 1] + text[at] + text.slice(at + 2));
  },
  "digit missing": (mm, random) => {
    const at = random.below(digits(mm).length);
    return Number(digits(mm).slice(0, at) + digits(mm).slice(at + 1));
  },
  "digit twice": (mm, random) => {
    const at = random.below(digits(mm).length);
    return Number(digits(mm).slice(0, at + 1) + digits(mm).slice(at));
  },
  "neighbour's": valueNear((one, other, session) => {
    const [own, its] = [tabOf(session, one), tabOf(session, other)];
    const row = session.made.of.wing.tabs.filter((tab) => tab.row === own?.row && tab.side === own?.side);
    return its !== undefined && own !== undefined && row.indexOf(its) === row.indexOf(own) + 1;
  }),
  "other row's": valueNear((one, other, session) => {
    const [own, its] = [tabOf(session, one), tabOf(session, other)];
    return own?.side === its?.side && own?.rib === its?.rib && own?.row !== its?.row;
  }),
};

/** A slip counts from this on: less can't be told from a line that is so [m]. */
export const LEAST_SLIP_M = 0.02;

export interface SlipRate {
  tried: number;
  found: number;
  /** The honest number, or the tab that was really read, is named. */
  named: number;
}

/** Makes each kind of slip at some places of a session. `leastM` leaves out those that change the number by less. */
export function slipsIn(
  session: MadeSession,
  places: readonly number[],
  rates: Map<string, SlipRate>,
  leastM: (kind: string) => number,
): void {
  const { random } = session.made;
  for (const at of places) {
    const reading = session.readings[at];
    if (reading === undefined) continue;
    const known = before(session, at);
    const mm = Math.round((reading.valuesM[0] as number) * 1000);
    for (const [kind, slip] of Object.entries(SLIPS)) {
      const wrong = slip(mm, random, session, at);
      if (wrong === undefined || wrong <= 0 || Math.abs(wrong - mm) < 1000 * leastM(kind)) continue;
      const verdict = session.judge.judge(known, reading.target, [wrong / 1000]);
      const rate = rates.get(kind) ?? { tried: 0, found: 0, named: 0 };
      rate.tried++;
      if (verdict.level === "doubtful") rate.found++;
      if (isNamed(verdict, reading, mm)) rate.named++;
      rates.set(kind, rate);
    }
  }
}

function isNamed({ level, better }: Verdict, reading: Reading, mm: number): boolean {
  if (level !== "doubtful" || better === undefined) return false;
  if (keyOfTarget(better.target) !== keyOfTarget(reading.target)) return true;
  return Math.abs(better.valueM * 1000 - mm) < 0.5;
}

export function ratesText(rates: ReadonlyMap<string, SlipRate>): string {
  const percent = (part: number, of: number): string => `${((100 * part) / of).toFixed(1)} %`.padStart(9);
  return [...rates]
    .map(
      ([kind, { tried, found, named }]) =>
        `${kind.padEnd(16)}${String(tried).padStart(6)}${percent(found, tried)}${percent(named, tried)}`,
    )
    .join("\n");
}
