import { describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import {
  type BenchTakeUp,
  EMPTY_BOOK,
  estimateTakeUp,
  givenKind,
  type LineLoops,
  LOOP_KINDS,
  type LoopBook,
  lengthChanges,
  lineLoops,
  loopChange,
} from "../../src/workshop/index.ts";
import { line as lineIn } from "../plan/broken.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";

const school = wingOf(DEMOS.school.plan);
const of = (loops: readonly LineLoops[], key: string): LineLoops => {
  const found = loops.find((each) => each.lineKey === key);
  if (found === undefined) throw new Error(`no loops of ${key}`);
  return found;
};
const present = (key: string, kindId: string, takeUpM?: number): LoopBook => ({
  ...EMPTY_BOOK,
  present: new Map([[key, kindId]]),
  presentTakeUpM: new Map(takeUpM === undefined ? [] : [[key, takeUpM]]),
});
const kindsOf = (loops: LineLoops): string[] => loops.states.map((state) => state.kind.id);

/** The sample plan with another loop on the first A line. */
const withLoop = (loop: { name: string; takeUpMm: number } | undefined) => {
  const plan = samplePlan();
  const a1 = lineIn(plan.sides.mirrored, "A1");
  if (loop === undefined) delete a1.loop;
  else a1.loop = loop;
  return wingOf(plan);
};

describe("the lines whose loops can be changed", () => {
  const loops = lineLoops(school, EMPTY_BOOK);

  it("are those on a maillon, both sides, tip lines too, in the wing's order; none on a pulley or on another line", () => {
    const expected = school.lines.filter((each) => each.hangsOn.kind === "maillon").map((each) => each.key);
    expect(loops.map((each) => each.lineKey)).toEqual(expected);
    expect(expected.length).toBeGreaterThan(20);
    expect(loops.some((each) => each.row === "tip")).toBe(true);
    expect(loops.some((each) => each.row === "brake")).toBe(false);
  });

  it("share out all tabs but the brakes': each tab above exactly one of them", () => {
    const covered = loops.flatMap((each) => each.tabs).sort((one, other) => one - other);
    const expected = school.tabs.flatMap((tab, index) => (tab.row === "brake" ? [] : [index]));
    expect(covered).toEqual(expected);
    for (const each of loops)
      for (const tab of each.tabs) {
        expect(school.paths[tab]?.lineKeys[0]).toBe(each.lineKey);
        expect(school.paths[tab]?.maillonId).toBe(each.maillonId);
      }
  });

  it("know their twin, which is the other way round the same", () => {
    for (const each of loops) {
      const twin = of(loops, each.mirrorKey ?? "none");
      expect(twin.mirrorKey).toBe(each.lineKey);
      expect(twin.side).not.toBe(each.side);
      expect(twin.states).toEqual(each.states);
    }
  });
});

describe("the states of an eye", () => {
  it("rise by take-up from the plain eye on, on every line of both demonstration wings", () => {
    for (const wing of [school, wingOf(DEMOS.second.plan)])
      for (const { states } of lineLoops(wing, EMPTY_BOOK)) {
        expect(states[0]?.kind.id).toBe("plain");
        expect(states[0]?.takeUpM).toBe(0);
        const takeUps = states.map((state) => state.takeUpM);
        expect(takeUps).toEqual([...takeUps].sort((one, other) => one - other));
      }
  });

  it("have the plan's own figure for the specified loop and estimates for the others", () => {
    const cl1 = of(lineLoops(school, EMPTY_BOOK), "left:CL1");
    const girth = cl1.states[cl1.specified];
    expect(girth).toMatchObject({ takeUpM: 0.013, source: "plan", kind: { id: "girth" } });
    expect(cl1.states.filter((state) => state.source === "plan")).toHaveLength(1);
    const turn = cl1.states.find((state) => state.kind.id === "turn");
    const [, oneTurn] = LOOP_KINDS;
    // The school wing's lower lines are 1.7 mm, its bars 4.5 mm.
    expect(turn?.takeUpM).toBe(oneTurn && estimateTakeUp(oneTurn, 0.0045, 0.0017)?.takeUpM);
  });

  it("stay sorted where the plan's figure breaks the usual order", () => {
    const a1 = of(lineLoops(withLoop({ name: "girth hitch", takeUpMm: 25 }), EMPTY_BOOK), "left:A1");
    expect(kindsOf(a1)).toEqual(["plain", "turn", "two-turns", "girth"]);
    expect(a1.specified).toBe(3);
    expect(a1.present).toBe(3);
  });

  it("hold a loop that only the plan knows, at the plan's figure, on its own line only", () => {
    const loops = lineLoops(withLoop({ name: "keeper knot", takeUpMm: 16 }), EMPTY_BOOK);
    const a1 = of(loops, "left:A1");
    expect(a1.states[a1.specified]).toMatchObject({
      kind: { id: "given:keeper knot" },
      takeUpM: 0.016,
      source: "plan",
    });
    expect(kindsOf(of(loops, "left:A2"))).not.toContain("given:keeper knot");
  });

  it("reckon a named loop with no take-up in the plan by the geometry: taking it out lengthens all the same", () => {
    const a1 = of(lineLoops(withLoop({ name: "girth hitch", takeUpMm: 0 }), EMPTY_BOOK), "left:A1");
    expect(a1.states[a1.specified]).toMatchObject({ kind: { id: "girth" }, source: "estimate" });
    expect(loopChange(a1, 0).changeM).toBeGreaterThan(0.01);
  });

  it("on a bar that the plan doesn't give are those of a usual one, flagged and less certain", () => {
    const plan = samplePlan();
    for (const maillon of plan.maillons) if (maillon.id === "A") delete maillon.barDiameterMm;
    const assumed = of(lineLoops(wingOf(plan), EMPTY_BOOK), "left:A1");
    const known = of(lineLoops(wingOf(samplePlan()), EMPTY_BOOK), "left:A1");
    expect([assumed.barAssumed, known.barAssumed]).toEqual([true, false]);
    expect(assumed.states.map((state) => state.takeUpM)).toEqual(known.states.map((state) => state.takeUpM));
    expect(assumed.states[1]?.standardUncertaintyM).toBeGreaterThan(
      known.states[1]?.standardUncertaintyM ?? 1,
    );
  });
});

describe("the bench against the estimate", () => {
  const bench = (kindId: string, takeUpM: number, lineDiameterM = 0.0015): BenchTakeUp => ({
    kindId,
    barDiameterM: 0.0045,
    lineDiameterM,
    takeUpM,
    standardUncertaintyM: undefined,
    date: undefined,
    note: undefined,
  });
  const wing = wingOf(samplePlan());
  const state = (book: LoopBook, key: string, kindId: string) =>
    of(lineLoops(wing, book), key).states.find((each) => each.kind.id === kindId);

  it("replaces it for the same kind, bar and line", () => {
    const book = { ...EMPTY_BOOK, bench: [bench("turn", 0.0085), bench("turn", 0.0087)] };
    expect(state(book, "left:B1", "turn")).toMatchObject({ source: "bench" });
    expect(state(book, "left:B1", "turn")?.takeUpM).toBeCloseTo(0.0086, 12);
    expect(state(book, "left:B1", "girth")).toEqual(state(EMPTY_BOOK, "left:B1", "girth"));
  });

  it("leaves it for a line of another diameter", () => {
    const book = { ...EMPTY_BOOK, bench: [bench("turn", 0.0085, 0.0019)] };
    expect(state(book, "left:B1", "turn")).toEqual(state(EMPTY_BOOK, "left:B1", "turn"));
  });

  it("leaves the plan's own figure for the loop that the plan specifies", () => {
    const book = { ...EMPTY_BOOK, bench: [bench("girth", 0.0111)] };
    expect(state(book, "left:A1", "girth")).toMatchObject({ takeUpM: 0.013, source: "plan" });
    expect(state(book, "left:B1", "girth")).toMatchObject({ takeUpM: 0.0111, source: "bench" });
  });

  it("makes a state of a loop that is known by name only", () => {
    const { id } = givenKind("keeper knot");
    const book = { ...EMPTY_BOOK, bench: [bench(id, 0.017)] };
    expect(state(book, "right:C2", id)).toMatchObject({ takeUpM: 0.017, source: "bench" });
  });
});

describe("the present loop", () => {
  const wing = wingOf(samplePlan());

  it("is the specified one where nothing was recorded", () => {
    for (const loops of lineLoops(wing, EMPTY_BOOK)) {
      expect(loops.present).toBe(loops.specified);
      expect(loops.presentRecorded).toBe(false);
    }
  });

  it("is the recorded one, on that line alone", () => {
    const loops = lineLoops(wing, present("left:A1", "two-turns"));
    const a1 = of(loops, "left:A1");
    expect([a1.states[a1.present]?.kind.id, a1.states[a1.specified]?.kind.id]).toEqual([
      "two-turns",
      "girth",
    ]);
    expect(a1.presentRecorded).toBe(true);
    expect(of(loops, "right:A1").presentRecorded).toBe(false);
  });

  it("takes up what was measured on this very line", () => {
    const b1 = of(lineLoops(wing, present("left:B1", "given:odd knot", 0.0155)), "left:B1");
    expect(b1.states[b1.present]).toMatchObject({
      kind: { id: "given:odd knot" },
      takeUpM: 0.0155,
      source: "bench",
    });
  });

  it("is reckoned as the specified one where nobody knows what it takes up", () => {
    const b1 = of(lineLoops(wing, present("left:B1", "given:odd knot")), "left:B1");
    expect(b1.present).toBe(b1.specified);
    expect(b1.presentRecorded).toBe(false);
  });
});

describe("a change of loop", () => {
  const a1 = of(lineLoops(wingOf(samplePlan()), EMPTY_BOOK), "left:A1");

  it("lengthens by what is taken out and shortens by what is put in", () => {
    expect(loopChange(a1, 0).changeM).toBeCloseTo(0.013, 12);
    expect(loopChange(a1, 3).changeM).toBeLessThan(0);
    expect(loopChange(a1, 3).changeM).toBe(0.013 - (a1.states[3]?.takeUpM ?? 0));
  });

  it("is as uncertain as both loops together, and none has no uncertainty", () => {
    const change = loopChange(a1, 3);
    expect(change.standardUncertaintyM).toBeCloseTo(
      Math.hypot(change.from.standardUncertaintyM, change.to.standardUncertaintyM),
      12,
    );
    expect(loopChange(a1, a1.present)).toMatchObject({ changeM: 0, standardUncertaintyM: 0 });
  });

  it("to a state that there isn't is a mistake of the caller's", () => {
    expect(() => loopChange(a1, 9)).toThrow(RangeError);
    expect(() => loopChange(a1, -1)).toThrow(RangeError);
  });

  it("becomes a change of the line's length; lines that stay are left out; one line can't be changed twice", () => {
    const b1 = of(lineLoops(wingOf(samplePlan()), EMPTY_BOOK), "left:B1");
    const lengths = lengthChanges([loopChange(a1, 0), loopChange(b1, b1.present)]);
    expect([...lengths.keys()]).toEqual(["left:A1"]);
    expect(lengths.get("left:A1")).toBeCloseTo(0.013, 12);
    expect(() => lengthChanges([loopChange(a1, 0), loopChange(a1, 1)])).toThrow(RangeError);
  });
});
