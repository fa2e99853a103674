import { describe, expect, it } from "vitest";
import { parseReadingsCsv } from "../../../src/readings/index.ts";
import {
  bookAfterWork,
  bothDates,
  doneOf,
  measureAgain,
  sheetFor,
  TYPED_UNCERTAINTY_M,
} from "../../../src/view/model/workshop-recheck.ts";
import { EMPTY_BOOK, type LoopBook, lineLoops, loopChange } from "../../../src/workshop/index.ts";
import { sampleWing } from "../stand-in.ts";

const wing = sampleWing();
const loops = lineLoops(wing, EMPTY_BOOK);
const [first] = loops;
if (first === undefined) throw new Error("The sample wing has no lines on a maillon.");
const to = first.states.findIndex((_, index) => index !== first.present);
const kindId = first.states[to]?.kind.id ?? "";
const change = loopChange(first, to);
const key = first.lineKey;
const line = wing.lines.find((each) => each.key === key);
const upper = wing.lines.find(({ hangsOn, row }) => hangsOn.kind === "line" && row === "B");
if (line === undefined || upper === undefined) throw new Error("The sample wing lacks a line.");
const NONE = { wing, loops, book: EMPTY_BOOK, chosen: new Map(), trialsMm: new Map() };

function replacing(date: string | undefined, newM: number | undefined): LoopBook {
  return {
    ...EMPTY_BOOK,
    replacements: [
      {
        lineId: upper?.id ?? "",
        sides: ["left"],
        date,
        oldM: 1.2,
        newM,
        tensionN: 50,
        loopKindId: undefined,
        note: undefined,
      },
    ],
  };
}

describe("what was done between two checks", () => {
  it("is nothing where nothing is tried", () => {
    expect(doneOf(NONE)).toEqual([]);
  });

  it("is a loop's change with its own uncertainty, and a typed length to half a millimetre", () => {
    const done = doneOf({
      ...NONE,
      chosen: new Map([[key, kindId]]),
      trialsMm: new Map([[upper.key, 5]]),
    });
    const of = new Map(done.map((each) => [each.lineKey, each]));
    expect(of.get(key)?.changeM).toBeCloseTo(change.changeM, 12);
    expect(of.get(key)?.standardUncertaintyM).toBeCloseTo(change.standardUncertaintyM, 12);
    expect(of.get(key)?.kindId).toBe(kindId);
    expect(of.get(upper.key)).toMatchObject({ changeM: 0.005, standardUncertaintyM: TYPED_UNCERTAINTY_M });
    expect(of.get(upper.key)?.kindId).toBeUndefined();
  });

  it("counts a loop and a length of the same line together", () => {
    const [both] = doneOf({ ...NONE, chosen: new Map([[key, kindId]]), trialsMm: new Map([[key, -4]]) });
    expect(both?.changeM).toBeCloseTo(change.changeM - 0.004, 12);
    expect(both?.standardUncertaintyM).toBeCloseTo(Math.hypot(change.standardUncertaintyM, 0.0005), 12);
  });

  it("counts a replaced line by its lengths on the bench, if it was replaced between the checks", () => {
    const days = { beforeDate: "2026-03-14", afterDate: "2026-03-21" };
    const changeOf = (book: LoopBook) => doneOf({ ...NONE, book, ...days }).map(({ changeM }) => changeM);
    expect(changeOf(replacing("2026-03-17", 1.207))[0]).toBeCloseTo(0.007, 12);
    expect(changeOf(replacing("2026-01-05", 1.207))).toEqual([]);
    expect(changeOf(replacing("2026-04-05", 1.207))).toEqual([]);
    expect(changeOf(replacing("2026-03-17", undefined))).toEqual([]);
  });
});

describe("what is to be read again", () => {
  it("is every path above a changed or replaced line, and some that nothing was done to", () => {
    const done = doneOf({ ...NONE, chosen: new Map([[key, kindId]]) });
    const again = measureAgain(wing, done, replacing(undefined, undefined), "2026-03-14");
    expect(again.lines.map(({ lineKey }) => lineKey).sort()).toEqual([key, upper.key].sort());
    const above = wing.paths
      .filter(({ lineKeys }) => lineKeys.includes(key) || lineKeys.includes(upper.key))
      .map(({ tabKey }) => tabKey.replace(/^\w+:/, ""));
    expect(new Set(again.tabIds)).toEqual(new Set(above));
    expect(again.otherIds.length).toBeGreaterThanOrEqual(4);
    expect(again.otherIds.filter((id) => again.tabIds.includes(id))).toEqual([]);
    const brakes = wing.tabs.filter(({ row }) => row === "brake").map(({ id }) => id);
    expect(again.otherIds.filter((id) => brakes.includes(id))).toEqual([]);
  });

  it("comes as a sheet that is read back as it is written once it's filled in", () => {
    const ids = ["A1", "B2"];
    const filled = sheetFor(wing, ids)
      .split("\r\n")
      .map((row) => row.replace(/^(A1|B2),,$/, "$1,7400,7401"))
      .join("\r\n");
    const read = parseReadingsCsv(filled, wing, {
      date: "2026-03-21",
      tensionN: 50,
      from: wing.reference.from,
      instrumentZeroM: 0,
    } as never);
    if (!read.ok) throw new Error(read.problems[0]?.message);
    expect(read.value.readings.map(({ target }) => target.kind === "tab" && target.id)).toEqual([
      "A1",
      "A1",
      "B2",
      "B2",
    ]);
  });
});

describe("the book once the work is done", () => {
  const done = doneOf({ ...NONE, chosen: new Map([[key, kindId]]) });

  it("has the loops of the lines it was done on, and forgets what the loop before took up", () => {
    const before: LoopBook = { ...EMPTY_BOOK, presentTakeUpM: new Map([[key, 0.011]]) };
    const book = bookAfterWork(before, done, new Set([key]));
    expect(book.present.get(key)).toBe(kindId);
    expect(book.presentTakeUpM.has(key)).toBe(false);
    const now = lineLoops(wing, book).find(({ lineKey }) => lineKey === key);
    expect(now?.states[now.present]?.kind.id).toBe(kindId);
  });

  it("leaves a line on which it wasn't done as it was", () => {
    const before: LoopBook = { ...EMPTY_BOOK, presentTakeUpM: new Map([[key, 0.011]]) };
    const book = bookAfterWork(before, done, new Set());
    expect(book.present).toEqual(before.present);
    expect(book.presentTakeUpM).toEqual(before.presentTakeUpM);
  });
});

describe("the dates of two checks", () => {
  it("say what they share once", () => {
    expect(bothDates("2026-03-14", "2026-03-21")).toBe("14 and 21 March 2026");
    expect(bothDates("2026-03-30", "2026-04-02")).toBe("30 March and 2 April 2026");
    expect(bothDates("2025-12-30", "2026-01-02")).toBe("30 December 2025 and 2 January 2026");
    expect(bothDates("2026-03-14", "2026-03-14")).toBe("14 March 2026, twice");
  });
});
