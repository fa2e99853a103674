import { describe, expect, it } from "vitest";
import { defaultChoices, EMPTY_BOOK, lineLoops, planLoops } from "../../src/workshop/index.ts";
import { chosenBy, chosenChanges, weighLoops } from "../../src/workshop/loop-by-hand.ts";
import { madeDeviations } from "../diagnosis/made.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";

const wing = wingOf(samplePlan());
const loops = lineLoops(wing, EMPTY_BOOK);
const choices = defaultChoices(wing, loops);
// Invented: row A long as if its loops were out, the rear a little short.
const deviations = madeDeviations(wing, (path, i) =>
  path.row === "A"
    ? 0.011 + 0.0007 * (i % 3)
    : path.row === "D"
      ? -0.006 - 0.0005 * (i % 4)
      : 0.0004 * (i % 5),
);
const plans = planLoops(wing, deviations, loops, choices);

describe("loops chosen by hand", () => {
  it("weigh as the best plan does where they are the best plan's, under either aim", () => {
    for (const aim of ["mean", "tolerance"] as const) {
      const asked = { ...choices, aim };
      const made = planLoops(wing, deviations, loops, asked);
      const weighed = weighLoops(wing, deviations, loops, asked, chosenBy(made.best), made);
      expect(made.best.changes.length).toBeGreaterThan(0);
      expect(weighed.changes).toEqual(made.best.changes);
      expect(weighed.rmsM).toBeCloseTo(made.best.rmsM, 9);
      expect(weighed.worstM).toBeCloseTo(made.best.worstM, 9);
      expect(weighed.beyond).toBe(made.best.beyond);
      expect(weighed.reached).toBeCloseTo(1, 9);
    }
  });

  it("weigh as the present does where nothing is chosen, or what is there already", () => {
    const there = new Map(loops.map((line) => [line.lineKey, line.states[line.present]?.kind.id ?? ""]));
    for (const chosen of [new Map<string, string>(), there]) {
      const weighed = weighLoops(wing, deviations, loops, choices, chosen, plans);
      expect(weighed.changes).toEqual([]);
      expect(weighed.rmsM).toBeCloseTo(plans.present.rmsM, 12);
      expect(weighed.reached).toBeCloseTo(0, 12);
    }
  });

  it("are weighed though the plans may not change those lines, and count below 0 where they are worse", () => {
    const longest = new Map(
      loops
        .filter((line) => line.row === "D")
        .map((line) => [line.lineKey, line.states.at(-1)?.kind.id ?? ""]),
    );
    const locked = { ...choices, mayChange: new Set<string>() };
    const weighed = weighLoops(wing, deviations, loops, locked, longest, plans);
    expect(weighed.changes.every(({ changeM }) => changeM < 0)).toBe(true);
    expect(weighed.rmsM).toBeGreaterThan(plans.present.rmsM);
    expect(weighed.reached).toBeLessThan(0);
  });

  it("leave out lines and kinds that the wing doesn't have", () => {
    expect(
      chosenChanges(
        loops,
        new Map([
          ["left:Z1", "girth"],
          [loops[0]?.lineKey ?? "", "no such loop"],
        ]),
      ),
    ).toEqual([]);
  });
});
