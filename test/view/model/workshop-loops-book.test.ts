import { describe, expect, it } from "vitest";
import { DEMOS } from "../../../src/demo/index.ts";
import { parsePlan } from "../../../src/plan/index.ts";
import {
  kindsOf,
  mayChangeWith,
  recordedAs,
  rowMayChange,
  takeUpGroups,
  withPresent,
} from "../../../src/view/model/workshop-loops-book.ts";
import { type BenchTakeUp, defaultChoices, EMPTY_BOOK, lineLoops } from "../../../src/workshop/index.ts";

const plan = parsePlan(DEMOS.school.plan);
if (!plan.ok) throw new Error("The demo plan is faulty.");
const wing = plan.value;
const loops = lineLoops(wing, EMPTY_BOOK);
const rowC = loops.filter(({ row }) => row === "C");
const keysC = rowC.map(({ lineKey }) => lineKey);

describe("take-ups by bar and line", () => {
  it("are estimated by a formula whose figures give the estimate", () => {
    const groups = takeUpGroups(wing, loops, []);
    expect(groups.reduce((sum, { lines }) => sum + lines, 0)).toBe(loops.length);
    const [group] = groups;
    const turn = group?.rows.find(({ kind }) => kind.id === "turn");
    const girth = group?.rows.find(({ kind }) => kind.id === "girth");
    const [barMm, lineMm] = [(group?.barM ?? 0) * 1000, (group?.lineM ?? 0) * 1000];
    expect(turn?.formula).toBe(`π × (${barMm} + ${lineMm}) / 2`);
    expect((turn?.estimate?.takeUpM ?? 0) * 1000).toBeCloseTo((Math.PI * (barMm + lineMm)) / 2, 9);
    expect((girth?.estimate?.takeUpM ?? 0) * 1000).toBeCloseTo(
      (Math.PI * (barMm + lineMm)) / 2 + 2.07 * lineMm,
      1,
    );
    expect(group?.rows.some(({ kind }) => kind.id === "plain")).toBe(false);
  });

  it("show the bench's mean where it counts for that bar and line, and nowhere else", () => {
    const [group, other] = takeUpGroups(wing, loops, []);
    if (group === undefined || other === undefined) throw new Error("The demo has one group only.");
    const reading = (mm: number): BenchTakeUp => ({
      kindId: "turn",
      barDiameterM: group.barM,
      lineDiameterM: group.lineM,
      takeUpM: mm / 1000,
      standardUncertaintyM: undefined,
      date: undefined,
      note: undefined,
    });
    const [measured, others] = takeUpGroups(wing, loops, [reading(10), reading(11)]);
    expect(measured?.rows.find(({ kind }) => kind.id === "turn")?.bench?.takeUpM).toBeCloseTo(0.0105, 12);
    expect(others?.rows.every(({ bench }) => bench === undefined)).toBe(true);
  });

  it("say where the bar is only assumed, and where the estimate isn't meant for it", () => {
    const bare = {
      ...wing,
      maillons: wing.maillons.map((maillon) => ({ ...maillon, barDiameterM: undefined })),
    };
    expect(takeUpGroups(bare, lineLoops(bare, EMPTY_BOOK), []).every(({ barAssumed }) => barAssumed)).toBe(
      true,
    );
    const thin = { ...wing, maillons: wing.maillons.map((maillon) => ({ ...maillon, barDiameterM: 0.002 })) };
    expect(takeUpGroups(thin, lineLoops(thin, EMPTY_BOOK), []).every(({ holds }) => !holds)).toBe(true);
  });
});

describe("the loops as they are", () => {
  it("are recorded for a whole row and taken back, which is as specified", () => {
    const recorded = withPresent(EMPTY_BOOK, keysC, "turn");
    expect([...recorded.present]).toEqual(keysC.map((key) => [key, "turn"]));
    const now = lineLoops(wing, recorded).filter(({ row }) => row === "C");
    expect(recordedAs(now)).toBe("turn");
    expect(recordedAs(rowC)).toBe("specified");
    expect(withPresent(recorded, keysC, undefined).present.size).toBe(0);
    expect(EMPTY_BOOK.present.size).toBe(0);
  });

  it("are mixed where a row's lines differ; what changes nothing is no entry", () => {
    const [first = ""] = keysC;
    const one = withPresent(EMPTY_BOOK, [first], "turn");
    expect(recordedAs(lineLoops(wing, one).filter(({ row }) => row === "C"))).toBe("mixed");
    expect(withPresent(one, [first], "turn")).toBe(one);
  });

  it("forget what was measured on a line once another loop is recorded there", () => {
    const [first = ""] = keysC;
    const measured = {
      ...withPresent(EMPTY_BOOK, [first], "turn"),
      presentTakeUpM: new Map([[first, 0.009]]),
    };
    expect(withPresent(measured, [first], "girth").presentTakeUpM.size).toBe(0);
    expect(withPresent(measured, [first], "turn").presentTakeUpM.get(first)).toBe(0.009);
  });

  it("can be of any kind that all the lines know", () => {
    expect(kindsOf(rowC).map(({ id }) => id)).toEqual(["plain", "turn", "girth", "two-turns"]);
    expect(kindsOf([])).toEqual([]);
  });
});

describe("the lines that may change", () => {
  it("are all, some or none of a row", () => {
    const choices = defaultChoices(wing, loops);
    const [first = ""] = keysC;
    expect(rowMayChange(loops, choices, "C")).toBe("all");
    const some = mayChangeWith(choices, [first], false);
    expect(rowMayChange(loops, { mayChange: some }, "C")).toBe("some");
    const none = mayChangeWith(choices, keysC, false);
    expect(rowMayChange(loops, { mayChange: none }, "C")).toBe("none");
    expect(mayChangeWith({ mayChange: none }, keysC, true).size).toBe(choices.mayChange.size);
  });
});
