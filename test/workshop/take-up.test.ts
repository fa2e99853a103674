import { describe, expect, it } from "vitest";
import { estimateHolds, estimateTakeUp, givenKind, LOOP_KINDS } from "../../src/workshop/index.ts";

const BAR = 0.0045;
const LINE = 0.0018;
const estimates = (bar: number, line: number, assumed = false) =>
  LOOP_KINDS.map((kind) => {
    const estimate = estimateTakeUp(kind, bar, line, assumed);
    if (estimate === undefined) throw new Error(`no estimate for ${kind.id}`);
    return estimate;
  });

describe("the estimated take-up", () => {
  it("is none for a plain eye, without uncertainty: take-ups are counted from it", () => {
    expect(estimates(BAR, LINE)[0]).toEqual({ takeUpM: 0, standardUncertaintyM: 0 });
  });

  it("rises from kind to kind on every bar and line that it holds for", () => {
    for (let bar = 0.0025; bar <= 0.008; bar += 0.0005)
      for (let line = 0.0007; line <= 0.0025; line += 0.0003) {
        if (!estimateHolds(bar, line)) continue;
        const takeUps = estimates(bar, line).map(({ takeUpM }) => takeUpM);
        expect(takeUps).toEqual([...takeUps].sort((one, other) => one - other));
        expect(new Set(takeUps).size).toBe(takeUps.length);
      }
  });

  it("grows with the scale: bar and line twice as thick take up twice as much", () => {
    const once = estimates(BAR, LINE);
    const twice = estimates(2 * BAR, 2 * LINE);
    for (const [index, { takeUpM }] of once.entries())
      expect(twice[index]?.takeUpM).toBeCloseTo(2 * takeUpM, 12);
  });

  it("has the uncertainty that its assumptions, moved one by one, make", () => {
    // By hand, in millimetres, D = 4.5, d = 1.8: half-widths over √3.
    const u = (halfWidth: number): number => halfWidth / Math.sqrt(3);
    const quarterTurn = Math.PI / 2;
    const turn = Math.hypot(quarterTurn * u(0.1), quarterTurn * u(0.15 * 1.8), u(0.5));
    const girth = Math.hypot(
      quarterTurn * u(0.1),
      (quarterTurn + 2.0708) * u(0.15 * 1.8),
      2.0708 * 1.8 * u(0.2),
      u(0.5),
    );
    const two = Math.hypot(Math.PI * u(0.1), Math.PI * u(0.15 * 1.8), u(0.5));
    const found = estimates(BAR, LINE).map(({ standardUncertaintyM }) => standardUncertaintyM * 1000);
    for (const [index, expected] of [0, turn, girth, two].entries())
      expect(found[index]).toBeCloseTo(expected, 4);
    // Between a third and a whole millimetre: less than the 3 mm from one kind to the next, more than nothing.
    for (const each of found.slice(1)) expect(each > 0.3 && each < 1).toBe(true);
  });

  it("is less certain where the bar's diameter is only assumed", () => {
    const known = estimates(BAR, LINE);
    for (const [index, assumed] of estimates(BAR, LINE, true).entries()) {
      expect(assumed.takeUpM).toBe(known[index]?.takeUpM);
      if (index > 0)
        expect(assumed.standardUncertaintyM).toBeGreaterThan(known[index]?.standardUncertaintyM ?? 1);
    }
  });

  it("isn't made for a loop of which only the name is known", () => {
    expect(estimateTakeUp(givenKind("soft link"), BAR, LINE)).toBeUndefined();
  });

  it("refuses a bar or line without thickness", () => {
    const [, turn] = LOOP_KINDS;
    if (turn === undefined) throw new Error("no kinds");
    expect(() => estimateTakeUp(turn, 0, LINE)).toThrow(RangeError);
    expect(() => estimateTakeUp(turn, BAR, Number.NaN)).toThrow(RangeError);
  });

  it("says where it isn't meant to hold: a bar thinner than the line, or far from a maillon's", () => {
    expect(estimateHolds(BAR, LINE)).toBe(true);
    expect(estimateHolds(0.0016, 0.0018)).toBe(false);
    expect(estimateHolds(0.012, LINE)).toBe(false);
  });
});
