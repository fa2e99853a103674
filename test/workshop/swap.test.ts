import { describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { analyse } from "../../src/diagnosis/analyse.ts";
import { openSession, solveStates } from "../../src/diagnosis/states.ts";
import { AT_TRIM } from "../../src/geometry/condition.ts";
import { changedLengths, solveWing } from "../../src/geometry/solve.ts";
import type { Path, Side } from "../../src/plan/index.ts";
import { parseCheck } from "../../src/readings/index.ts";
import { EMPTY_BOOK } from "../../src/workshop/book.ts";
import { lineLoops } from "../../src/workshop/line-loops.ts";
import { type SwapInput, type SwapSide, swapChanges, swapSheets } from "../../src/workshop/swap.ts";
import { madeDeviations } from "../diagnosis/made.ts";
import { wingOf } from "../plan/factory.ts";

const wing = wingOf(DEMOS.school.plan);
const loops = lineLoops(wing, EMPTY_BOOK);
const lengthOf = (key: string): number => wing.lines.find((line) => line.key === key)?.lengthM as number;

/** Every lower line of the main rows has shrunk by as much; nothing else has. */
const shrunk = (byM: number) =>
  madeDeviations(wing, ({ row }) => (row === "tip" || row === "brake" ? 0 : -byM));

function inputOf(change: Partial<SwapInput> & Pick<SwapInput, "damagedKeys">): SwapInput {
  return { wing, deviations: undefined, uncertainties: undefined, loops, ...change };
}
const sheetFor = (change: Parameters<typeof inputOf>[0]) => {
  const [sheet] = swapSheets(inputOf(change));
  if (sheet === undefined) throw new Error("no sheet");
  return sheet;
};
const on = (sheet: { readonly sides: readonly SwapSide[] }, side: Side): SwapSide =>
  sheet.sides.find((one) => one.side === side) as SwapSide;
const chosen = (side: SwapSide) => side.landings[side.suggested as number];

const measured = (key: string, longerM: number) =>
  new Map(
    [key, key.replace("left", "right")].map((one) => [
      one,
      { oldM: lengthOf(one) - longerM, newM: lengthOf(one) },
    ]),
  );

describe("a new lower line beside aged ones (common practice, no source)", () => {
  // Ten millimetres, as one extra turn takes up on this bar.
  const sheet = sheetFor({
    damagedKeys: ["left:AL2"],
    deviations: shrunk(0.0103),
    lengths: measured("left:AL2", 0.0103),
  });
  const left = on(sheet, "left");

  it("gets a loop, so that it lands with them", () => {
    expect(chosen(left)?.state?.kind.id).toBe("turn");
    expect(Math.abs(chosen(left)?.differenceM as number)).toBeLessThan(0.001);
    expect(left.landings[0]?.differenceM).toBeCloseTo(0.0103, 9);
  });

  it("keeps a reserve to take out", () => {
    expect(chosen(left)?.reserveM).toBeCloseTo(chosen(left)?.state?.takeUpM as number, 9);
    expect(left.why).toMatch(/to take out when the new line has shrunk/);
  });

  it("comes back to them by taking the loop out when it has shrunk as they have", () => {
    expect(left.later?.changeM).toBeLessThan(-0.004);
    const sure = sheetFor({
      damagedKeys: ["left:AL2"],
      lengths: measured("left:AL2", 0.0103),
    });
    const later = on(sure, "left").later;
    expect(later?.basis).toBe("old line");
    expect(later?.differenceM).toBeCloseTo(-0.0103 + (chosen(on(sure, "left"))?.differenceM as number), 9);
    expect(Math.abs(later?.oneOut?.differenceM as number)).toBeLessThan(0.001);
    expect(later?.oneOut?.state.kind.id).toBe("plain");
  });

  it("is replaced on both sides", () => {
    expect(sheet.sides.map(({ side, replaced }) => [side, replaced])).toEqual([
      ["left", true],
      ["right", true],
    ]);
    expect(sheet.leftRightM).toBeCloseTo(0, 9);
  });
});

describe("the swap sheet", () => {
  it("compares with the lines on both sides along the span that stay", () => {
    const deviations = madeDeviations(wing, (path: Path) =>
      path.lineKeys[0] === "left:BL1" ? -0.004 : path.lineKeys[0] === "left:BL3" ? -0.008 : 0,
    );
    const sheet = sheetFor({ damagedKeys: ["left:BL2"], deviations, lengths: measured("left:BL2", 0.006) });
    const left = on(sheet, "left");
    expect(left.neighbours.map(({ lineKey, place }) => [lineKey, place])).toEqual([
      ["left:BL1", "inner"],
      ["left:BL3", "outer"],
      ["right:BL2", "twin"],
    ]);
    expect(left.target).toMatchObject({ basis: "neighbours", lineKeys: ["left:BL1", "left:BL3"] });
    expect(left.target.meanM).toBeCloseTo(-0.006, 9);
    expect(left.landings[0]?.meanM).toBeCloseTo(0.006, 9);
    expect(left.landings[0]?.differenceM).toBeCloseTo(0.012, 9);
  });

  it("skips a neighbour that is replaced too", () => {
    const [, sheet] = swapSheets(
      inputOf({ damagedKeys: ["left:BL1", "left:BL2"], deviations: shrunk(0.005) }),
    );
    expect(on(sheet as NonNullable<typeof sheet>, "left").target.lineKeys).toEqual(["left:BL3"]);
  });

  it("moves a path by new less old length, and present less new take-up", () => {
    // Row D is specified with two extra turns: leaving them out lengthens.
    const sheet = sheetFor({
      damagedKeys: ["left:DL1"],
      deviations: shrunk(0.02),
      lengths: measured("left:DL1", 0.02),
    });
    const left = on(sheet, "left");
    const present = left.landings.find(({ state }) => state?.kind.id === "two-turns")?.state
      ?.takeUpM as number;
    for (const { state, changeM } of left.landings)
      expect(changeM).toBeCloseTo(0.02 + present - (state?.takeUpM ?? 0), 9);
  });

  it("warns with the difference that results where only one of a pair is replaced", () => {
    const sheet = sheetFor({
      damagedKeys: ["right:AL1"],
      replacedKeys: ["right:AL1"],
      deviations: shrunk(0.004),
      lengths: new Map([["right:AL1", { oldM: lengthOf("right:AL1") - 0.004, newM: lengthOf("right:AL1") }]]),
      kinds: new Set(["plain"]),
    });
    expect(sheet.leftRightM).toBeCloseTo(-0.004, 9);
    expect(sheet.warnings[0]).toBe(
      "Only AL1 right is replaced. Its paths will be 4.0 mm long against the other side. Replace both of a pair.",
    );
    expect(on(sheet, "left").landings).toEqual([]);
  });

  it("prefers what leaves something to take out where nearness can't be told, and only then", () => {
    // Halfway to the first turn: 4.6 mm long with a plain eye, some more short with the turn.
    const at = (longerM: number, standardUncertaintyM: number) => {
      const key = "left:AL2";
      const lengths = new Map([
        [key, { oldM: lengthOf(key) - longerM, newM: lengthOf(key), standardUncertaintyM }],
      ]);
      return chosen(on(sheetFor({ damagedKeys: [key], lengths }), "left"))?.state?.kind.id;
    };
    expect(at(0.0046, 0.0005)).toBe("turn");
    expect(at(0.001, 0.0005)).toBe("plain");
    expect(at(0.006, 0.0005)).toBe("turn");
  });

  it("doesn't let lengths that are hardly known carry a line far from its neighbours", () => {
    const key = "left:AL2";
    const lengths = new Map([
      [key, { oldM: lengthOf(key) - 0.003, newM: lengthOf(key), standardUncertaintyM: 0.005 }],
    ]);
    expect(chosen(on(sheetFor({ damagedKeys: [key], lengths }), "left"))?.state?.kind.id).toBe("plain");
  });

  it("holds a brake's lower line against the plan: what it has lost is lost from the free travel", () => {
    const deviations = madeDeviations(wing, ({ row }) => (row === "brake" ? -0.04 : 0));
    const left = on(
      sheetFor({ damagedKeys: ["left:BRL1"], deviations, lengths: measured("left:BRL1", 0.03) }),
      "left",
    );
    expect(left.target).toMatchObject({ basis: "specified", meanM: 0 });
    expect(left.landings[0]?.differenceM).toBeCloseTo(-0.01, 9);
    expect(left.why).toBe("It has no loop: its paths land 10.0 mm short against the plan.");
  });

  it("says nothing of a landing where neither readings nor the old line tell it", () => {
    const left = on(sheetFor({ damagedKeys: ["left:AL1"] }), "left");
    expect(left).toMatchObject({ old: undefined, suggested: undefined, later: undefined });
    expect(left.why).toMatch(/measure old and new/);
    expect(left.landings.every(({ changeM }) => changeM === undefined)).toBe(true);
  });

  it("keeps to the maker's limit", () => {
    const sheet = sheetFor({
      damagedKeys: ["left:AL2"],
      lengths: measured("left:AL2", 0.02),
      mostTakeUpM: 0.011,
    });
    expect(chosen(on(sheet, "left"))?.state?.kind.id).toBe("turn");
  });

  it("has no loops for a middle line, but says to which length to make it", () => {
    const far = sheetFor({
      damagedKeys: ["left:BM3"],
      deviations: shrunk(0),
      lengths: measured("left:BM3", 0.008),
    });
    const left = on(far, "left");
    expect(left.landings).toHaveLength(1);
    expect(left.landings[0]?.differenceM).toBeCloseTo(0.008, 9);
    // Copied from the old line: common practice, no source.
    expect(left.advice?.basis).toBe("old line");
    expect(left.advice?.lengthM).toBeCloseTo(lengthOf("left:BM3") - 0.008, 9);
    const near = sheetFor({
      damagedKeys: ["left:BM3"],
      deviations: shrunk(0),
      lengths: measured("left:BM3", 0.002),
    });
    expect(on(near, "left").advice?.basis).toBe("specified");
  });

  it("doesn't copy an old line that was itself far out: it may have been stretched", () => {
    const deviations = madeDeviations(wing, ({ lineKeys }) =>
      lineKeys.includes("left:BM3") ? 0.012 : -0.004,
    );
    const lengths = new Map([["left:BM3", { oldM: lengthOf("left:BM3") + 0.012 }]]);
    const { advice } = on(sheetFor({ damagedKeys: ["left:BM3"], deviations, lengths }), "left");
    expect(advice?.basis).toBe("neighbours");
    expect(advice?.lengthM).toBeCloseTo(lengthOf("left:BM3") - 0.004, 9);
  });

  it("lists the steps for a line on a maillon in order, with names", () => {
    const { steps } = sheetFor({ damagedKeys: ["left:BL1"] });
    expect(steps.map(({ id }) => id)).toEqual([
      "stop",
      "separate",
      "record",
      "open",
      "inspect",
      "draw out",
      "compare",
      "join",
      "loop",
      "order",
      "close",
      "keeper",
      "twin",
      "readings",
      "inflate",
    ]);
    expect(steps.find(({ id }) => id === "record")?.text).toContain("BL1, BL2, BL3 and TL1");
    const upper = sheetFor({ damagedKeys: ["left:A5"] }).steps.map(({ id }) => id);
    for (const id of ["stop", "loop", "close", "keeper"]) expect(upper).not.toContain(id);
    expect(sheetFor({ damagedKeys: ["left:BRL1"] }).steps.map(({ id }) => id)).toContain("brake");
  });

  it("never says that the wing may fly", () => {
    const sheet = sheetFor({ damagedKeys: ["left:BL1"] });
    expect(sheet.cautions.join(" ")).toMatch(/clearance to fly/);
    expect(JSON.stringify(sheet)).not.toMatch(/safe to fly|airworthy|may be flown|cleared/i);
  });

  it("refuses what isn't there", () => {
    expect(() => sheetFor({ damagedKeys: ["left:Z"] })).toThrow(RangeError);
    expect(() => sheetFor({ damagedKeys: ["left:AL1"], loops: [] })).toThrow(RangeError);
    expect(() =>
      sheetFor({ damagedKeys: ["left:AL1"], lengths: new Map([["left:AL1", { oldM: 0 }]]) }),
    ).toThrow(RangeError);
  });
});

describe("on the school wing as it was read", () => {
  const parsed = parseCheck(DEMOS.school.check, wing);
  if (!parsed.ok) throw new Error("the demo's check is faulty");
  const analysis = analyse(wing, parsed.value);
  const { deviations, uncertainties } = analysis;
  const input = (damagedKeys: readonly string[]): SwapInput => ({
    wing,
    deviations,
    uncertainties,
    loops,
    damagedKeys,
  });

  it("lands where the whole model does, within 0.1 mm", () => {
    const sheets = swapSheets(input(["left:CL2", "right:BM3"]));
    const changes = swapChanges(sheets);
    expect([...changes.keys()].sort()).toEqual(["left:BM3", "left:CL2", "right:BM3", "right:CL2"]);
    const { model } = analysis;
    const attributed = new Map(analysis.lines.map((line) => [line.lineKey, line.attributedM]));
    const lengths = new Map(attributed);
    for (const [key, change] of changes) lengths.set(key, (lengths.get(key) ?? 0) + change);
    const before = solveWing(model, attributed, analysis.measured);
    const after = solveWing(model, lengths, before);
    expect(after.converged).toBe(true);

    // Each member's length in the solved shape, less its stretch beyond the reference tension.
    const lengthIn = (state: typeof after, unstretched: Float64Array, key: string): number => {
      const m = model.lineMember.get(key) as number;
      const [a, b] = [model.network.ends[2 * m] as number, model.network.ends[2 * m + 1] as number];
      const distance = Math.hypot(
        ...[0, 1, 2].map(
          (k) => (state.positions[3 * b + k] as number) - (state.positions[3 * a + k] as number),
        ),
      );
      const ea = model.network.stiffness[m] as number;
      const stretch = ((state.tensionsN[m] as number) - model.referenceTensionN) / ea;
      return distance - stretch * (unstretched[m] as number);
    };
    const sets = [
      { state: before, unstretched: changedLengths(model, attributed) },
      { state: after, unstretched: changedLengths(model, lengths) },
    ] as const;
    let compared = 0;
    for (const side of sheets.flatMap((sheet) => sheet.sides)) {
      const landed = chosen(side);
      for (const { tabKey, deviationM } of landed?.paths ?? []) {
        if (deviationM === undefined) continue;
        const tab = wing.tabs.findIndex(({ key }) => key === tabKey);
        const keys = wing.paths[tab]?.lineKeys ?? [];
        const [was, is] = sets.map(({ state, unstretched }) =>
          keys.reduce((sum, key) => sum + lengthIn(state, unstretched, key), 0),
        );
        const read = deviations.paths[tab]?.deviationM as number;
        expect(Math.abs((is as number) - (was as number) - (deviationM - read)), tabKey).toBeLessThan(1e-4);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(12);
  });

  it("goes into a solve as what is tried", () => {
    const states = solveStates(openSession(analysis), {
      condition: AT_TRIM,
      trial: swapChanges(swapSheets(input(["left:CL2"]))),
    });
    expect(states.tried?.converged).toBe(true);
  });

  it("reckons the old line from the readings, and says so with its uncertainty", () => {
    const [sheet] = swapSheets(input(["left:DL2"]));
    const left = on(sheet as NonNullable<typeof sheet>, "left");
    expect(left.old?.basis).toBe("attributed");
    expect(left.old?.lengthM).toBeLessThan(lengthOf("left:DL2"));
    expect(chosen(left)?.standardUncertaintyM).toBeGreaterThan(left.old?.standardUncertaintyM as number);
    expect(sheet?.warnings.join(" ")).toMatch(/reckoned from the readings/);
  });

  it("mirrors when left and right are exchanged", () => {
    const other = (key: string): string =>
      key.startsWith("left:") ? key.replace("left", "right") : key.replace("right", "left");
    const byKey = new Map(deviations.paths.map((path) => [path.tabKey, path.deviationM]));
    const mirrored = madeDeviations(wing, (path) => byKey.get(other(path.tabKey)));
    const plain = madeDeviations(wing, (path) => byKey.get(path.tabKey));
    for (const id of ["CL1", "BL2", "DM1", "A5", "TL1", "BRL1"]) {
      const [one] = swapSheets(inputOf({ damagedKeys: [`left:${id}`], deviations: plain }));
      const [two] = swapSheets(inputOf({ damagedKeys: [`right:${id}`], deviations: mirrored }));
      for (const side of ["left", "right"] as const) {
        const [a, b] = [
          on(one as NonNullable<typeof one>, side),
          on(two as NonNullable<typeof two>, side === "left" ? "right" : "left"),
        ];
        expect(b.suggested, id).toBe(a.suggested);
        expect(b.damaged).toBe(a.damaged);
        expect(b.target.lineKeys).toEqual(a.target.lineKeys.map(other));
        for (const [at, landed] of a.landings.entries()) {
          expect(b.landings[at]?.differenceM).toBeCloseTo(landed.differenceM as number, 9);
          expect(b.landings[at]?.meanM).toBeCloseTo(landed.meanM as number, 9);
        }
        expect(b.later?.differenceM).toBeCloseTo(a.later?.differenceM as number, 9);
      }
      expect(two?.leftRightM).toBeCloseTo(-(one?.leftRightM as number), 9);
    }
  });
});
