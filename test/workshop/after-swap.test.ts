import { describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import type { Path } from "../../src/plan/index.ts";
import { type AfterInput, checkAfter, pathsAfter } from "../../src/workshop/after-swap.ts";
import { EMPTY_BOOK } from "../../src/workshop/book.ts";
import { lineLoops } from "../../src/workshop/line-loops.ts";
import { type SwapInput, swapSheets } from "../../src/workshop/swap.ts";
import { madeDeviations } from "../diagnosis/made.ts";
import { wingOf } from "../plan/factory.ts";

const wing = wingOf(DEMOS.school.plan);
const loops = lineLoops(wing, EMPTY_BOOK);
const lengthOf = (key: string): number => wing.lines.find((line) => line.key === key)?.lengthM as number;
const inTrim = madeDeviations(wing, () => 0);

function afterSwap(
  swap: Partial<SwapInput> & Pick<SwapInput, "damagedKeys">,
  change: Partial<AfterInput> = {},
) {
  const deviations = "deviations" in swap ? swap.deviations : inTrim;
  const sheets = swapSheets({ wing, uncertainties: undefined, loops, ...swap, deviations });
  return checkAfter({ wing, sheets, deviations, checkDate: "2026-03-14", today: "2026-04-02", ...change });
}
const kinds = (result: ReturnType<typeof checkAfter>): string[] => result.reasons.map(({ kind }) => kind);
const bench = (ids: readonly string[], longerM: number) =>
  new Map(
    ids.flatMap((id) =>
      ["left", "right"].map((side) => [
        `${side}:${id}`,
        { oldM: lengthOf(`${side}:${id}`) - longerM, newM: lengthOf(`${side}:${id}`) },
      ]),
    ),
  );

describe("what comes after a swap", () => {
  it("says first that a wing with a damaged lower line isn't flown", () => {
    const result = afterSwap({ damagedKeys: ["left:AL2"] });
    expect(result.first).toMatch(/AL2 left is a lower line and is damaged: the wing isn’t to be flown/);
    expect(result.fullCheck).toBe(true);
    expect(kinds(result)).toEqual(expect.arrayContaining(["lower line damaged", "lower line replaced"]));
  });

  it("finds no reason where an upper pair lands with its neighbours, and still clears nothing", () => {
    const result = afterSwap({ damagedKeys: ["left:A5"], lengths: bench(["A5"], 0.001) });
    expect(result.reasons).toEqual([]);
    expect(result.first).toBeUndefined();
    expect(result.fullCheck).toBe(false);
    expect(result.conclusion).toMatch(/no clearance to fly/);
  });

  it("calls for a check where only one of a pair was replaced, and tells the difference", () => {
    const result = afterSwap({
      damagedKeys: ["left:A5"],
      replacedKeys: ["left:A5"],
      lengths: new Map([["left:A5", { oldM: lengthOf("left:A5") - 0.007, newM: lengthOf("left:A5") }]]),
    });
    expect(kinds(result)).toEqual(expect.arrayContaining(["one of a pair", "pair differs", "landing off"]));
    expect(result.reasons.find(({ kind }) => kind === "pair differs")).toMatchObject({ weight: "check" });
    expect(result.reasons.find(({ kind }) => kind === "pair differs")?.valueM).toBeCloseTo(0.007, 9);
  });

  it("only points out a pair that differs by a few millimetres within the tolerance", () => {
    const lengths = bench(["A5"], 0);
    lengths.set("left:A5", { oldM: lengthOf("left:A5") - 0.004, newM: lengthOf("left:A5") });
    const result = afterSwap({ damagedKeys: ["left:A5"], lengths });
    expect(result.reasons.find(({ kind }) => kind === "pair differs")?.weight).toBe("look");
    expect(result.fullCheck).toBe(false);
  });

  it("tells neighbours that disagree", () => {
    const deviations = madeDeviations(wing, (path: Path) => (path.lineKeys[0] === "left:BL1" ? -0.009 : 0));
    expect(kinds(afterSwap({ damagedKeys: ["left:BL2"], deviations }))).toContain("neighbours disagree");
    expect(kinds(afterSwap({ damagedKeys: ["right:BL2"] }))).not.toContain("neighbours disagree");
  });

  it("tells when the loops run out, and when nothing is left to take out", () => {
    const long = afterSwap({ damagedKeys: ["left:AL2"], lengths: bench(["AL2"], 0.03) });
    expect(kinds(long)).toContain("loops run out");
    expect(long.reasons.find(({ kind }) => kind === "loops run out")?.text).toMatch(
      /long even with the largest loop/,
    );
    const short = afterSwap({ damagedKeys: ["left:AL2"], lengths: bench(["AL2"], -0.008) });
    expect(short.reasons.find(({ kind }) => kind === "loops run out")?.text).toMatch(
      /short even without a loop/,
    );
    expect(kinds(short)).toContain("no reserve");
    expect(kinds(afterSwap({ damagedKeys: ["left:AL2"], lengths: bench(["AL2"], 0.01) }))).not.toContain(
      "loops run out",
    );
  });

  it("judges the loop that was chosen, not the one suggested", () => {
    const swap = { damagedKeys: ["left:AL2"], lengths: bench(["AL2"], 0.01) };
    const result = afterSwap(swap, { chosen: new Map([["left:AL2", 0]]) });
    expect(kinds(result)).toEqual(expect.arrayContaining(["no reserve", "pair differs", "landing off"]));
  });

  it("asks for readings where there are none or they are old", () => {
    const swap = { damagedKeys: ["left:A5"], lengths: bench(["A5"], 0) };
    expect(kinds(afterSwap({ ...swap, deviations: undefined }))).toContain("no readings");
    expect(kinds(afterSwap(swap, { today: "2029-01-01" }))).toContain("old readings");
    expect(kinds(afterSwap(swap, { today: "2028-03-01" }))).not.toContain("old readings");
    expect(() => afterSwap(swap, { today: "soon" })).toThrow(RangeError);
  });

  it("counts the paths that stay beyond the tolerance with the new lines in", () => {
    const deviations = madeDeviations(wing, ({ row }) => (row === "D" ? -0.018 : 0));
    const result = afterSwap({ damagedKeys: ["left:A5"], deviations, lengths: bench(["A5"], 0) });
    const beyond = result.reasons.find(({ kind }) => kind === "paths beyond");
    expect(beyond?.tabKeys).toHaveLength(wing.tabs.filter(({ row }) => row === "D").length);
    const sheets = swapSheets({
      wing,
      uncertainties: undefined,
      loops,
      damagedKeys: ["left:A5"],
      deviations,
      lengths: bench(["A5"], -0.002),
    });
    const a5 = wing.tabs.findIndex(({ key }) => key === "left:A5");
    expect(pathsAfter({ wing, sheets, deviations })[a5]).toBeCloseTo(-0.002, 9);
  });

  it("speaks of the brakes where one of theirs was replaced or their travel is short", () => {
    expect(kinds(afterSwap({ damagedKeys: ["left:BRM1"], lengths: bench(["BRM1"], 0) }))).toContain(
      "brake line",
    );
    const deviations = madeDeviations(wing, ({ row }) => (row === "brake" ? -0.07 : 0));
    const result = afterSwap({ damagedKeys: ["left:A5"], deviations, lengths: bench(["A5"], 0) });
    expect(result.reasons.find(({ kind }) => kind === "brake line")?.text).toMatch(/only 10 mm left/);
  });

  it("never says that a wing may fly", () => {
    for (const damaged of ["left:AL2", "left:A5", "left:BRL1", "left:BM3"])
      expect(JSON.stringify(afterSwap({ damagedKeys: [damaged] }))).not.toMatch(
        /safe to fly|airworthy|may be flown|cleared/i,
      );
  });
});
