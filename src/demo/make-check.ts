/** An invented check: what an instrument would have shown on a wing whose lines have changed. */
import { keyOf, type PlanFile, SIDES, type Side } from "../plan/index.ts";
import type { CheckFile } from "../readings/index.ts";
import { type AgedLines, type Ageing, ageLines, chainDown, halfOf } from "./ageing.ts";
import { type Random, seededRandom } from "./random.ts";

/** How a check was taken, whatever the wing was like. */
export interface ReadingSpec {
  readonly date: string;
  readonly note: string;
  readonly instrument: {
    readonly name: string;
    readonly zeroMm: number;
    readonly resolutionMm: number;
  };
  /** Standard deviation of a single reading, before it is rounded to the resolution [mm]. */
  readonly noiseMm: number;
  /** Tabs read more than once: how often. */
  readonly repeats: readonly {
    readonly side: Side;
    readonly tab: string;
    readonly times: number;
    readonly note?: string;
  }[];
  readonly notMeasured: readonly {
    readonly side: Side;
    readonly tab: string;
  }[];
  /** Lines also read on their own. */
  readonly singleLines: readonly {
    readonly side: Side;
    readonly line: string;
    readonly note?: string;
  }[];
  /** What the instrument showed too much that day beside its stated zero, unknown to who read it [mm]. */
  readonly dayShiftMm?: number;
}

export interface CheckSpec extends ReadingSpec {
  readonly seed: number;
  readonly ageing: Ageing;
}

/** A check file of the plan's wing after `ageing`: see {@link readCheck}. */
export function makeCheck(plan: PlanFile, spec: CheckSpec): CheckFile {
  const random = seededRandom(spec.seed);
  return readCheck(plan, ageLines(plan, spec.ageing, random), spec, random);
}

/**
 * A check file of the plan's wing with these lines, at the plan's own datum and tension: left side first, tabs in the plan's
 * order, then single lines. Every reading includes the instrument's zero and is rounded to its resolution.
 */
export function readCheck(plan: PlanFile, aged: AgedLines, spec: ReadingSpec, random: Random): CheckFile {
  const { zeroMm, resolutionMm } = spec.instrument;
  const shown = (lengthMm: number): number => {
    const value = lengthMm + zeroMm + (spec.dayShiftMm ?? 0) + spec.noiseMm * random.normal();
    return resolutionMm * Math.round(value / resolutionMm);
  };
  const readings: CheckFile["readings"] = [];
  for (const side of SIDES) {
    const half = halfOf(plan, side);
    for (const tab of half.tabs) {
      const isThis = (each: { side: Side; tab: string }) => each.side === side && each.tab === tab.id;
      if (spec.notMeasured.some(isThis)) continue;
      const change = chainDown(half, tab.line).reduce(
        (sum, line) => sum + (aged.workingChangeMm.get(keyOf(side, line.id)) ?? 0),
        0,
      );
      const repeat = spec.repeats.find(isThis);
      const values = Array.from({ length: repeat?.times ?? 1 }, () => shown((tab.pathMm ?? 0) + change));
      readings.push({
        tab: tab.id,
        side,
        mm: values.length === 1 ? (values[0] as number) : values,
        ...(repeat?.note === undefined ? {} : { note: repeat.note }),
      });
    }
  }
  for (const { side, line: id, note } of spec.singleLines) {
    const line = halfOf(plan, side).lines.find((each) => each.id === id);
    if (!line) throw new RangeError(`The plan has no line ${id}.`);
    readings.push({
      line: id,
      side,
      mm: shown(line.lengthMm + (aged.changeMm.get(keyOf(side, id)) ?? 0)),
      ...(note === undefined ? {} : { note }),
    });
  }
  return {
    format: "linewright-check",
    version: 1,
    wing: plan.wing.name,
    date: spec.date,
    tensionN: plan.reference.tensionN,
    from: plan.reference.from,
    instrument: spec.instrument,
    note: spec.note,
    readings,
  };
}
