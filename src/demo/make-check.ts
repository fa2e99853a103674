/** An invented check: what an instrument would have shown on a wing whose lines have changed. */
import { keyOf, type PlanFile, SIDES, type Side } from "../plan/index.ts";
import type { CheckFile } from "../readings/index.ts";
import { type Ageing, ageLines, chainDown, halfOf } from "./ageing.ts";
import { seededRandom } from "./random.ts";

export interface CheckSpec {
  readonly seed: number;
  readonly date: string;
  readonly note: string;
  readonly instrument: {
    readonly name: string;
    readonly zeroMm: number;
    readonly resolutionMm: number;
  };
  readonly ageing: Ageing;
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
}

/**
 * A check file of the plan's wing after `ageing`, at the plan's own datum and tension: left side first, tabs in the plan's order,
 * then single lines. Every reading includes the instrument's zero and is rounded to its resolution.
 */
export function makeCheck(plan: PlanFile, spec: CheckSpec): CheckFile {
  const random = seededRandom(spec.seed);
  const aged = ageLines(plan, spec.ageing, random);
  const { zeroMm, resolutionMm } = spec.instrument;
  const shown = (lengthMm: number): number => {
    const value = lengthMm + zeroMm + spec.noiseMm * random.normal();
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
