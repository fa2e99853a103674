/** Mistakes made on purpose in honest checks, each with what should be said about it. */
import type { MistakeKind } from "../../../src/diagnosis/mistakes/index.ts";
import { ROWS, SIDES, type Side } from "../../../src/plan/index.ts";
import { expectedReadingM } from "../../../src/readings/index.ts";
import type { Check, Reading, Target } from "../../../src/readings/model.ts";
import { type Made, pick, withValues } from "./made-checks.ts";

export interface Injected {
  readonly check: Check;
  readonly kind: MistakeKind;
  /** Readings that are wrong now. */
  readonly wrong: readonly Target[];
  /** The check that the correction should lead to; undefined where reading again is all that can be asked. */
  readonly honest: Check | undefined;
}

/** Undefined where the check has no reading that the mistake could be made with. */
export type Injection = (made: Made) => Injected | undefined;

const single = (made: Made): Reading =>
  pick(
    made.random,
    made.check.readings.filter((one) => one.valuesM.length === 1),
  );
const typed = (reading: Reading): number => Math.round((reading.valuesM[0] as number) * 1000);

/** One reading's whole millimetres replaced. */
function retyped(
  made: Made,
  kind: MistakeKind,
  reading: Reading,
  mm: number,
  honest = true,
): Injected | undefined {
  // Nobody types a nought in front.
  if (mm === typed(reading) || (kind !== "keystroke" && mm < 1000)) return undefined;
  const check = withValues(made.check, (one) => (one === reading ? [mm / 1000] : one.valuesM));
  return { check, kind, wrong: [reading.target], honest: honest ? made.check : undefined };
}

/** Off by 1 in the place of the tens, hundreds or thousands, carried or not. */
export function offByOne(placeMm: number): Injection {
  return (made) => {
    const reading = single(made);
    return retyped(
      made,
      "digit slip",
      reading,
      typed(reading) + (made.random.even() < 0.5 ? -1 : 1) * placeMm,
    );
  };
}

/** Any other digit in the place of the hundreds or tens, at least this much off. */
export function anotherDigit(placeMm: number): Injection {
  return (made) => {
    const reading = single(made);
    const digit = Math.floor(typed(reading) / placeMm) % 10;
    const other = pick(
      made.random,
      [0, 1, 2, 3, 4, 5, 6, 7, 8, 9].filter((one) => Math.abs(one - digit) > 1),
    );
    return retyped(made, "digit slip", reading, typed(reading) + (other - digit) * placeMm);
  };
}

/** Two digits next to each other transposed; `leastMm` keeps to those that change the figure by at least so much. */
export function transposed(leastMm: number): Injection {
  return (made) => {
    const reading = single(made);
    const mm = String(typed(reading));
    const at = made.random.below(mm.length - 1);
    const other = Number(mm.slice(0, at) + mm[at + 1] + mm[at] + mm.slice(at + 2));
    return Math.abs(other - Number(mm)) < leastMm
      ? undefined
      : retyped(made, "digits transposed", reading, other);
  };
}

/** A digit left out: the first three can be told from the row, the last can't. */
export const digitMissing: Injection = (made) => {
  const reading = single(made);
  const mm = String(typed(reading));
  const at = made.random.below(mm.length);
  return retyped(made, "keystroke", reading, Number(mm.slice(0, at) + mm.slice(at + 1)), at < mm.length - 2);
};

export const digitDoubled: Injection = (made) => {
  const reading = single(made);
  const mm = String(typed(reading));
  const at = made.random.below(mm.length);
  return retyped(made, "keystroke", reading, Number(mm.slice(0, at + 1) + mm[at] + mm.slice(at + 1)));
};

export const misheard: Injection = (made) => {
  const reading = pick(
    made.random,
    made.check.readings.filter(
      (one) => one.valuesM.length === 1 && /[3-9]0$|1[3-9]$/u.test(String(typed(one))),
    ),
  );
  const mm = String(typed(reading));
  const heard = mm.endsWith("0") ? `1${mm.at(-2)}` : `${mm.at(-1)}0`;
  return retyped(made, "misheard", reading, Number(mm.slice(0, -2) + heard));
};

/** Differences of what two tabs read here, in standard deviations of a path's scatter. */
function sigmasApart(made: Made, one: Reading, other: Reading): number {
  return Math.abs((one.valuesM[0] as number) - (other.valuesM[0] as number)) / made.sigmaM;
}

/** Two tabs next to each other in a row exchanged, whose specified lengths differ by `least` to `most` standard deviations. */
export function neighboursSwapped(least: number, most = Number.POSITIVE_INFINITY): Injection {
  return (made) => {
    const { readings } = made.check;
    const pairs = readings.slice(1).flatMap((other, i): [Reading, Reading][] => {
      const one = readings[i] as Reading;
      if (one.valuesM.length > 1 || other.valuesM.length > 1 || !isNext(made, one.target, other.target))
        return [];
      const should = [one, other].map(
        ({ target }) => expectedReadingM(made.of.lookup, target, made.check) as number,
      );
      const apart = Math.abs((should[0] as number) - (should[1] as number)) / made.sigmaM;
      return apart >= least && apart < most ? [[one, other]] : [];
    });
    if (pairs.length === 0) return undefined;
    return exchanged(made, "neighbours swapped", pick(made.random, pairs));
  };
}

/** The same tab left and right exchanged, where they differ by at least so much. */
export function sidesSwapped(leastSigmas: number): Injection {
  return (made) => {
    const pairs = made.check.readings.flatMap((one): [Reading, Reading][] => {
      const other = made.check.readings.find(
        ({ target }) => target.side !== one.target.side && target.id === one.target.id,
      );
      if (one.target.side !== "left" || !other || one.valuesM.length > 1 || other.valuesM.length > 1)
        return [];
      return sigmasApart(made, one, other) >= leastSigmas ? [[one, other]] : [];
    });
    return pairs.length === 0 ? undefined : exchanged(made, "sides swapped", pick(made.random, pairs));
  };
}

function exchanged(made: Made, kind: MistakeKind, [one, other]: readonly [Reading, Reading]): Injected {
  const check = withValues(made.check, (reading) =>
    reading === one ? other.valuesM : reading === other ? one.valuesM : reading.valuesM,
  );
  return { check, kind, wrong: [one.target, other.target], honest: made.check };
}

function isNext(made: Made, one: Target, other: Target): boolean {
  const tabs = made.of.wing.tabs;
  const at = tabs.findIndex((tab) => tab.id === one.id && tab.side === one.side);
  const next = tabs[at + 1];
  return next?.id === other.id && next.side === other.side && next.row === tabs[at]?.row;
}

/** A tab's reading taken at another: the next one along the row, or the same rib of the next row. */
export function wrongTab(which: "next" | "row", leastSigmas: number): Injection {
  return (made) => {
    const tabs = made.of.wing.tabs;
    const pairs = made.check.readings.flatMap((one): [Reading, Reading][] => {
      const tab = tabs.find(({ id, side }) => id === one.target.id && side === one.target.side);
      const other = made.check.readings.find(({ target }) => {
        if (which === "next") return isNext(made, one.target, target);
        const there = tabs.find(({ id, side }) => id === target.id && side === target.side);
        return (
          there?.side === tab?.side &&
          there?.rib === tab?.rib &&
          ROWS.indexOf(there?.row ?? "A") === ROWS.indexOf(tab?.row ?? "A") + 1
        );
      });
      if (!other || one.valuesM.length > 1 || other.valuesM.length > 1) return [];
      return sigmasApart(made, one, other) >= leastSigmas ? [[one, other]] : [];
    });
    if (pairs.length === 0) return undefined;
    const [one, other] = pick(made.random, pairs);
    const again = Math.round(1000 * ((other.valuesM[0] as number) + 0.0012 * made.random.normal())) / 1000;
    const check = withValues(made.check, (reading) => (reading === one ? [again] : reading.valuesM));
    const honest = withValues(made.check, (reading) =>
      reading === one ? undefined : reading === other ? [...other.valuesM, again] : reading.valuesM,
    );
    return { check, kind: "wrong tab", wrong: [one.target], honest };
  };
}

/** From some tab of a row on, each tab has the next one's reading (a call missed) or the one before's (entered twice). */
export function shifted(by: 1 | -1): Injection {
  return (made) => {
    const rows = ROWS.filter((row) => row !== "tip");
    const side = pick(made.random, SIDES);
    const row = pick(
      made.random,
      rows.filter((one) => made.of.wing.tabs.some((tab) => tab.row === one)),
    );
    const tabs = made.of.wing.tabs.filter((tab) => tab.row === row && tab.side === side);
    const read = tabs.flatMap(
      (tab) => made.check.readings.find(({ target }) => target.id === tab.id && target.side === side) ?? [],
    );
    // Where a reading is missing or repeated the entries don't slip by just one.
    if (read.length < tabs.length || read.some((one) => one.valuesM.length > 1) || read.length < 5)
      return undefined;
    const from = made.random.below(read.length - 3);
    const values = new Map<Reading, readonly number[] | undefined>();
    for (let at = from; at < read.length; at++) {
      if (by === 1) values.set(read[at] as Reading, read[at + 1]?.valuesM);
      else if (at > from) values.set(read[at] as Reading, read[at - 1]?.valuesM);
    }
    const check = withValues(made.check, (reading) =>
      values.has(reading) ? values.get(reading) : reading.valuesM,
    );
    const wrong = read
      .slice(by === 1 ? from : from + 1, by === 1 ? -1 : undefined)
      .map(({ target }) => target);
    const [gone, doubled] = by === 1 ? [read[from], undefined] : [read.at(-1), read[from]];
    const honest = withValues(made.check, (reading) =>
      reading === gone
        ? undefined
        : reading === doubled
          ? [...reading.valuesM, ...reading.valuesM]
          : reading.valuesM,
    );
    return { check, kind: "entries shifted", wrong, honest };
  };
}

/** A whole row and side off by a step: the riser's length, or any other. */
export function rowStepped(stepM: number | "riser"): Injection {
  return (made) => {
    const rows = [...new Set(made.of.wing.tabs.map((tab) => tab.row))].filter((row) => row !== "brake");
    const row = pick(made.random, rows);
    return stepped(made, stepM, (target) => rowOf(made, target) === row, [pick(made.random, SIDES)]);
  };
}

export function sideStepped(stepM: number): Injection {
  return (made) => stepped(made, stepM, () => true, [pick(made.random, SIDES)]);
}

function stepped(
  made: Made,
  stepM: number | "riser",
  concerns: (target: Target) => boolean,
  sides: readonly Side[],
): Injected {
  const size = stepM === "riser" ? (made.of.wing.risers[0]?.lengthM as number) : stepM;
  const step = (made.random.even() < 0.5 ? -1 : 1) * size;
  const is = (target: Target): boolean => sides.includes(target.side) && concerns(target);
  const check = withValues(made.check, ({ target, valuesM }) =>
    is(target) ? valuesM.map((value) => value + step) : valuesM,
  );
  const wrong = made.check.readings.flatMap(({ target }) => (is(target) ? [target] : []));
  return { check, kind: "another point", wrong, honest: stepM === "riser" ? made.check : undefined };
}

/** The whole check read from the other end of the risers. */
export const otherDatum: Injection = (made) => {
  const from = made.check.from === "riser" ? ("maillon" as const) : ("riser" as const);
  const wrong = made.check.readings.flatMap(({ target }) =>
    rowOf(made, target) === "brake" ? [] : [target],
  );
  // Typed as before, but the check now says the other datum.
  return { check: { ...made.check, from }, kind: "another point", wrong, honest: made.check };
};

function rowOf(made: Made, target: Target): string | undefined {
  return made.of.wing.tabs.find((tab) => tab.id === target.id && tab.side === target.side)?.row;
}
