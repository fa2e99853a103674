import { afterEach, describe, expect, it } from "vitest";
import {
  defaultFrame,
  enter,
  goTo,
  keyOfTarget,
  makeOrder,
  note,
  reorder,
  skip,
  specifiedOnly,
  startSession,
  undo,
} from "../../../src/readings/index.ts";
import { mapOf } from "../../../src/view/model/measure-map.ts";
import {
  ARRANGEMENTS,
  allPaths,
  arranged,
  orderOf,
  rowsOfWing,
} from "../../../src/view/model/measure-order.ts";
import {
  agoText,
  backwards,
  entryWords,
  readingText,
  recentOf,
  targetsLike,
  timeLeftText,
} from "../../../src/view/model/measure-told.ts";
import { inTheSessionsUnit, METER_GAP_MS, meaningOf } from "../../../src/view/model/measure-typed.ts";
import { speak } from "../../../src/words/index.ts";
import { samplePlan, wingOf } from "../../plan/factory.ts";

const wing = wingOf(samplePlan());
const frame = defaultFrame(wing, "2026-03-14");
const judge = specifiedOnly(wing);
const AT = Date.UTC(2026, 2, 14, 9);
const keys = (steps: readonly { target: Parameters<typeof keyOfTarget>[0] }[]) =>
  steps.map(({ target }) => keyOfTarget(target));

afterEach(() => speak());

describe("what is to be read", () => {
  it("is every path of the wing at first", () => {
    const all = orderOf(wing, allPaths(wing), "pairs");
    expect(keys(all.steps)).toEqual(keys(makeOrder(wing, "pairs").steps));
    expect(all.steps.length).toBe(wing.tabs.length);
  });

  it("can be some rows, one side, or single lines of a tier", () => {
    const [row = "A"] = rowsOfWing(wing);
    const some = orderOf(
      wing,
      { ...allPaths(wing), rows: new Set([row]), sides: new Set(["right"]) },
      "rows",
    );
    expect(some.steps.length).toBeGreaterThan(0);
    expect(some.steps.every((step) => step.row === row && step.target.side === "right")).toBe(true);
    const lines = orderOf(wing, { ...allPaths(wing), what: "lines", tiers: new Set([1]) }, "pairs");
    const lower = wing.lines.filter(({ tier, lengthAssumed }) => tier === 1 && !lengthAssumed);
    expect(new Set(keys(lines.steps)).size).toBe(lower.length);
    expect(lines.steps[0]?.target.id).toBe(lines.steps[1]?.target.id);
    expect(lines.steps[0]?.target.side).not.toBe(lines.steps[1]?.target.side);
    const both = orderOf(wing, { ...allPaths(wing), what: "both" }, "sides");
    expect(both.steps.length).toBe(wing.tabs.length + lower.length);
  });

  it("is the same in every order", () => {
    const wanted = { ...allPaths(wing), what: "both" as const };
    const before = orderOf(wing, wanted, "rows");
    const strange = { target: { kind: "tab", id: "gone", side: "left" }, row: "A" } as const;
    for (const name of ARRANGEMENTS) {
      const after = arranged(wing, [...before.steps, strange], name);
      expect(keys(after.steps).sort()).toEqual([...keys(before.steps), "tab left gone"].sort());
      expect(after.steps.at(-1)).toEqual(strange);
    }
  });
});

describe("the map of a session", () => {
  it("has each line in its row and on its side, with what has become of it", () => {
    let session = startSession(frame, makeOrder(wing, "pairs"), AT);
    const [first, second, third] = session.state.order.steps;
    if (!first || !second || !third) throw new Error("The order is too short.");
    const should = judge.expected({ frame, readings: [] }, first.target)?.valueM as number;
    session = enter(session, String(Math.round(should * 1000)), AT + 1000, judge).session;
    session = skip(session, AT + 2000);
    session = note(session, "knot", third.target, AT + 3000);
    const off = judge.expected({ frame, readings: [] }, third.target)?.valueM as number;
    session = enter(session, String(Math.round(off * 1000) + 300), AT + 4000, judge).session;
    const cells = mapOf(session, new Map()).flatMap(({ sides }) => [...sides.left, ...sides.right]);
    expect(cells.length).toBe(session.state.order.steps.length);
    const cellOf = (step: typeof first) => cells.find(({ key }) => key === keyOfTarget(step.target));
    expect(cellOf(first)).toMatchObject({ state: "read", isNext: false });
    expect(cellOf(second)).toMatchObject({ state: "skipped" });
    expect(cellOf(third)).toMatchObject({ state: "doubtful", isNext: true, hasNote: true });
  });

  it("stands still while the order changes, and takes in a line that was gone to out of the order", () => {
    const places = new Map(
      wing.tabs.map(({ id, side, rib }) => [keyOfTarget({ kind: "tab", id, side }), rib]),
    );
    const session = startSession(frame, makeOrder(wing, "pairs"), AT);
    const shown = (of: typeof session) =>
      new Map(mapOf(of, places).map(({ row, sides }) => [row, sides.left.map(({ key }) => key)]));
    const after = reorder(session, makeOrder(wing, "sides", { firstSide: "right" }), AT);
    expect(shown(after)).toEqual(shown(session));
    const line = wing.lines.find(({ lengthAssumed }) => !lengthAssumed);
    if (line === undefined) throw new Error("The wing has no line of known length.");
    const there = goTo(
      session,
      { target: { kind: "line", id: line.id, side: line.side }, row: line.row },
      AT + 1,
    );
    expect(mapOf(there, places).some(({ kind }) => kind === "line")).toBe(true);
  });
});

describe("what keys mean", () => {
  const press = (key: string, field = "", sinceMs = 1000, onControl = false) =>
    meaningOf({ key, ctrl: false, alt: false }, field, sinceMs, onControl);

  it("letters do something while nothing is typed, and are text afterwards", () => {
    expect(press("s")).toMatchObject({ do: "command", command: "skip" });
    expect(press("U")).toMatchObject({ do: "command", command: "undo" });
    expect(press("m", "7.421 ")).toEqual({ do: "type", text: "m" });
    expect(press("7")).toEqual({ do: "type", text: "7" });
  });

  it("Enter takes what is typed whatever has the focus, and else is the button's", () => {
    expect(press("Enter", "7421", 1000, true)).toEqual({ do: "submit" });
    expect(press("Enter", "", 1000, true)).toEqual({ do: "leave" });
  });

  it("letters that come faster than anyone types are a meter's", () => {
    expect(press("s", "", METER_GAP_MS - 1)).toEqual({ do: "type", text: "s" });
    expect(press("Tab", "7421", 5)).toEqual({ do: "submit" });
    expect(press("Tab", "7421", 500)).toEqual({ do: "leave" });
  });

  it("leaves the browser's own keys alone; taking back goes by Ctrl+Z too", () => {
    expect(meaningOf({ key: "r", ctrl: true, alt: false }, "", 1000, false)).toEqual({ do: "leave" });
    expect(meaningOf({ key: "z", ctrl: true, alt: false }, "", 1000, false)).toEqual({ do: "undo" });
    expect(press("ArrowRight")).toEqual({ do: "leave" });
    expect(press("?")).toEqual({ do: "leave" });
    expect(press(" ", "", 1000, true)).toEqual({ do: "leave" });
    expect(press("Backspace", "74")).toEqual({ do: "erase" });
    expect(press("Escape", "74")).toEqual({ do: "clear" });
  });
});

describe("numbers in inches", () => {
  const expected = { valueM: 7.421, lowM: 7.4, highM: 7.44 };

  it("become millimetres, whole, with decimals or as a fraction", () => {
    // 292.165 in × 25.4 mm exactly.
    expect(inTheSessionsUnit("292.165", "in", expected)).toBe("7420.99 mm");
    expect(inTheSessionsUnit("292,165", "in", expected)).toBe("7420.99 mm");
    expect(inTheSessionsUnit("292 5/32", "in", expected)).toBe("7420.77 mm");
    expect(inTheSessionsUnit("292", "in", undefined)).toBe("7416.8 mm");
    expect(inTheSessionsUnit('292.165"', "mm", expected)).toBe("7420.99 mm");
  });

  it("stay where they say another unit, or can only be millimetres", () => {
    expect(inTheSessionsUnit("7421 mm", "in", expected)).toBe("7421 mm");
    expect(inTheSessionsUnit("7421", "in", expected)).toBe("7421");
    expect(inTheSessionsUnit("7421", "mm", expected)).toBe("7421");
    expect(inTheSessionsUnit("D= 7.421 m", "in", expected)).toBe("D= 7.421 m");
  });
});

describe("what is told of a session", () => {
  it("is the last readings that hold, and what would be taken back, the latest first", () => {
    let session = startSession(frame, makeOrder(wing, "pairs"), AT);
    expect(recentOf(session, 3)).toEqual([]);
    expect(backwards(session, 3)).toEqual([]);
    const done: string[] = [];
    for (let i = 0; i < 4; i++) {
      const target = session.state.next?.target;
      if (target === undefined) throw new Error("Nothing is asked for.");
      done.unshift(keyOfTarget(target));
      const should = judge.expected({ frame, readings: [] }, target)?.valueM as number;
      session = enter(session, String(Math.round(should * 1000)), AT + 9000 * (i + 1), judge).session;
    }
    expect(keys(recentOf(session, 3))).toEqual(done.slice(0, 3));
    session = undo(session, AT + 60_000);
    expect(keys(recentOf(session, 3))).toEqual(done.slice(1, 4));
    session = enter(session, "no number", AT + 70_000, judge).session;
    expect(keys(recentOf(session, 1))).toEqual(done.slice(1, 2));
    session = note(session, "knot", undefined, AT + 80_000);
    expect(backwards(session, 2).map(entryWords)).toEqual([
      "Note: knot",
      expect.stringContaining("no number"),
    ]);
  });

  it("figures have tenths of a millimetre only where there are any, and the person's unit", () => {
    expect(readingText(7.421)).toBe("7421 mm");
    expect(readingText(7.4215)).toBe("7421.5 mm");
    speak({ unit: "in" });
    expect(readingText(7.421)).toBe("292.17 in");
  });

  it("times are in words", () => {
    expect(timeLeftText(undefined)).toBeUndefined();
    expect(timeLeftText(20_000)).toBe("about 1 minute left");
    expect(timeLeftText(14 * 60_000)).toBe("about 14 minutes left");
    expect(agoText(AT, AT + 5 * 60_000)).toBe("5 minutes ago");
    expect(agoText(AT, AT + 3 * 24 * 3600_000)).toBe("3 days ago");
  });

  it("a name is found by its beginning, and by its side in any of the languages", () => {
    const { steps } = makeOrder(wing, "rows");
    const [first] = steps;
    if (first === undefined) throw new Error("The wing has no tabs.");
    const id = first.target.id;
    for (const side of ["r", "right", "rechts", "droite", "d"]) {
      const found = targetsLike(steps, `${id.toLowerCase()} ${side}`);
      expect(found[0]?.target).toEqual({ kind: "tab", id, side: "right" });
    }
    expect(targetsLike(steps, `${id} g`)[0]?.target.side).toBe("left");
    expect(targetsLike(steps, "")).toEqual([]);
    expect(targetsLike(steps, "zz9")).toEqual([]);
  });
});
