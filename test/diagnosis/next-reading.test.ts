import { describe, expect, it } from "vitest";
import { DEFAULT_AGEING } from "../../src/diagnosis/ageing-prior.ts";
import { type Attribution, attribute } from "../../src/diagnosis/attribution.ts";
import { nextReadings, sayNextReading } from "../../src/diagnosis/next-reading.ts";
import type { Wing } from "../../src/plan/model.ts";
import type { Deviations } from "../../src/readings/model.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";
import { madeDeviations } from "./made.ts";
import { simulate, spreadOf } from "./simulated.ts";

const wing = wingOf(samplePlan());
const spread = spreadOf(wing, 0.0015, { zero: 0.002, scale: 0.001 });
const { deviations } = simulate(wing, DEFAULT_AGEING, spread, 4);
const unknown = ({ lines }: Attribution): number =>
  lines.reduce((sum, { deviationM }) => sum + deviationM ** 2, 0);

/** The same check with a line read alone besides; what it shows doesn't matter for how much is known. */
function withLine(of: Wing, before: Deviations, lineKey: string, deviationM = 0.003): Deviations {
  const specifiedM = of.lines.find((line) => line.key === lineKey)?.lengthM as number;
  return {
    ...before,
    lines: [...before.lines, { lineKey, specifiedM, measuredM: specifiedM + deviationM, deviationM }],
  };
}

describe("which line to read next", () => {
  const known = attribute(wing, deviations, spread);
  const next = nextReadings(wing, known, spread, 4);

  it("promises of every line what reading it and working all out anew gives", () => {
    expect(next.ranked).toHaveLength(wing.lines.length);
    expect(next.unknownM2).toBeCloseTo(unknown(known), 15);
    for (const gain of next.ranked) {
      const after = attribute(wing, withLine(wing, deviations, gain.lineKey), spread);
      const reduction = unknown(known) - unknown(after);
      expect(Math.abs(gain.reductionM2 / reduction - 1)).toBeLessThan(1e-8);
      expect(gain.share).toBeCloseTo(reduction / unknown(known), 10);
      const own = after.lines.find((line) => line.lineKey === gain.lineKey)?.deviationM as number;
      expect(Math.abs(gain.afterM / own - 1)).toBeLessThan(1e-8);
    }
  });

  it("ranks them, the most telling first", () => {
    next.ranked.slice(1).forEach((gain, i) => {
      expect(gain.reductionM2).toBeLessThanOrEqual((next.ranked[i] as typeof gain).reductionM2);
    });
    expect(next.best[0]).toEqual(next.ranked[0]);
  });

  it("names the best few in turn as reading one after the other and asking again would", () => {
    let read = deviations;
    let now = known;
    for (const gain of next.best) {
      const asked = nextReadings(wing, now, spread, 1).best[0];
      expect(asked?.lineKey).toBe(gain.lineKey);
      expect(Math.abs(gain.reductionM2 / (asked?.reductionM2 as number) - 1)).toBeLessThan(1e-8);
      expect(Math.abs(gain.beforeM / (asked?.beforeM as number) - 1)).toBeLessThan(1e-8);
      read = withLine(wing, read, gain.lineKey, -0.002);
      now = attribute(wing, read, spread);
    }
  });

  it("doesn't send anyone to a line that was read alone, nor to one whose length is only assumed", () => {
    const [first] = next.ranked;
    const key = first?.lineKey as string;
    const after = nextReadings(wing, attribute(wing, withLine(wing, deviations, key), spread), spread);
    expect(after.ranked.map(({ lineKey }) => lineKey)).not.toContain(key);
    const assumed: Wing = {
      ...wing,
      lines: wing.lines.map((line) => (line.row === "A" ? { ...line, lengthAssumed: true } : line)),
    };
    const rows = nextReadings(assumed, known, spread).ranked.map(
      ({ lineKey }) => wing.lines.find((line) => line.key === lineKey)?.row,
    );
    expect(rows).not.toContain("A");
  });

  it("promises less for a line the coarser its own reading is", () => {
    const coarse = { ...spread, settings: { ...spread.settings, readingM: 0.005 } };
    const gains = new Map(
      nextReadings(wing, known, coarse).ranked.map((gain) => [gain.lineKey, gain.reductionM2]),
    );
    for (const gain of next.ranked) expect(gains.get(gain.lineKey)).toBeLessThan(gain.reductionM2);
  });

  it("says it in a sentence, with the line's name, its side and what it settles", () => {
    expect(sayNextReading(wing, next)).toMatch(
      /^Read [A-DKT][\d.]+ on the (left|right) alone next: it settles [A-DKT][\d.]+ itself from ±\d+\.\d mm to ±\d+\.\d mm and takes \d+ % off what is unknown about all lines\.$/,
    );
    const all = new Map(wing.lines.map((line) => [line.key, 0]));
    const everything = attribute(
      wing,
      madeDeviations(wing, () => 0, all),
      spread,
    );
    expect(sayNextReading(wing, nextReadings(wing, everything, spread))).toBe(
      "Every line of the plan that can be read alone has been.",
    );
  });

  it("works without a single path read: then the longest row's lowers tell most", () => {
    const nothing = attribute(
      wing,
      madeDeviations(wing, () => undefined),
      spread,
    );
    const best = nextReadings(wing, nothing, spread).best[0];
    expect(wing.lines.find((line) => line.key === best?.lineKey)?.tier).toBe(1);
  });
});
