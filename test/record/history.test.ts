import { describe, expect, it } from "vitest";
import { robustMean } from "../../src/diagnosis/robust.ts";
import type { Row, Side } from "../../src/plan/index.ts";
import type { Check } from "../../src/readings/index.ts";
import {
  compareTwo,
  type History,
  historyOf,
  loopsLeft,
  type RowSeries,
  readBook,
  readCheck,
  trendOf,
  worksIn,
} from "../../src/record/index.ts";
import { EMPTY_BOOK, lineLoops } from "../../src/workshop/index.ts";
import { FRAME, testWing } from "../readings/wing.ts";
import { bookText, checkText } from "./made.ts";

const wing = testWing();

/** A check in which every path is off by so much [mm]. */
function checkOff(date: string, offMm: (row: Row, side: Side) => number | undefined): Check {
  return {
    ...FRAME,
    date,
    readings: wing.tabs.flatMap(({ id, side, row }, tab) => {
      const mm = offMm(row, side);
      if (mm === undefined) return [];
      const valuesM = [(wing.paths[tab]?.specifiedM as number) + mm / 1000];
      return [{ target: { kind: "tab" as const, id, side }, valuesM, note: undefined }];
    }),
  };
}

const dated = (checks: readonly Check[]) => checks.map((check, at) => ({ id: `c${at + 1}`, check }));
const seriesOf = (history: History, row: Row, side?: Side, against?: Row): RowSeries => {
  const found = history.series.find((one) => one.row === row && one.side === side && one.against === against);
  if (found === undefined) throw new Error(`no series of ${row}`);
  return found;
};

describe("a row over the checks", () => {
  const shrinking = ["2024-01-01", "2025-01-01", "2026-01-01"].map((date, year) =>
    checkOff(date, (row, side) => (row === "B" ? -2 * year - (side === "right" ? 1 : 0) : 0)),
  );
  const hours = [
    { day: "2024-01-01", totalHours: 0 },
    { day: "2026-01-01", totalHours: 200 },
  ];
  const history = historyOf({ wing, checks: dated(shrinking), hours, works: [] });

  it("has the robust mean of what was read, by side, date and flight hours", () => {
    expect(seriesOf(history, "B", "left").points.map(({ meanM }) => Math.round(meanM * 1e6) / 1e3)).toEqual([
      0, -2, -4,
    ]);
    expect(seriesOf(history, "B", "right").points.map(({ meanM }) => Math.round(meanM * 1e6) / 1e3)).toEqual([
      -1, -3, -5,
    ]);
    expect(seriesOf(history, "B").points.map(({ hours: at }) => Math.round(at ?? -1))).toEqual([0, 100, 200]);
    const both = history.checks[1]?.deviations.paths.filter(({ row }) => row === "B");
    expect(seriesOf(history, "B").points[1]?.meanM).toBe(
      robustMean((both ?? []).map((path) => path.deviationM ?? 0)),
    );
  });

  it("knows a mean better than a single reading, and no better than what all readings share", () => {
    const [point] = seriesOf(history, "B").points;
    const known = history.checks[0]?.uncertainties;
    if (known === undefined) throw new Error("there is no check");
    const { totalM, effects } = known;
    const tab = known.tabKeys.indexOf("left:B1");
    const zero = effects.find(({ name }) => name === "zero")?.loadingsM[tab] ?? 0;
    expect(point?.standardUncertaintyM).toBeLessThan(totalM[tab] as number);
    expect(point?.standardUncertaintyM).toBeGreaterThan(zero);
  });

  it("shrinks by 2 mm a year, on date as on hours", () => {
    const byDate = trendOf(seriesOf(history, "B", "left"), "date");
    const byHours = trendOf(seriesOf(history, "B", "left"), "hours");
    expect(byDate.kind === "slope" && byDate.slopeM * 365.5).toBeCloseTo(-0.002, 6);
    expect(byHours.kind === "slope" && byHours.slopeM * 100).toBeCloseTo(-0.002, 5);
    const still = trendOf(seriesOf(history, "A"), "date");
    expect(still.kind === "slope" && still.slopeM).toBeCloseTo(0, 12);
  });

  it("is held against the rows behind it too, better than by itself as the zero drops out", () => {
    const pair = seriesOf(history, "A", undefined, "B").points;
    expect(pair.map(({ meanM }) => Math.round(meanM * 1e5) / 100)).toEqual([0.5, 2.5, 4.5]);
    const shift = historyOf({
      wing,
      checks: dated(shrinking.map((check) => ({ ...check, instrumentZeroM: 0.005 }))),
      hours,
      works: [],
    });
    expect(seriesOf(shift, "A", undefined, "B").points[1]?.meanM).toBeCloseTo(pair[1]?.meanM as number, 6);
    const zero = historyOf({ wing, checks: dated(shrinking), hours, works: [], settings: { zeroM: 0.02 } });
    expect(seriesOf(zero, "A").points[0]?.standardUncertaintyM).toBeGreaterThan(0.019);
    expect(seriesOf(zero, "A", undefined, "B").points[0]?.standardUncertaintyM).toBeCloseTo(
      pair[0]?.standardUncertaintyM as number,
      9,
    );
  });

  it("leaves out checks in which it wasn’t read", () => {
    const gap = historyOf({
      wing,
      checks: dated([...shrinking, checkOff("2027-01-01", (row) => (row === "B" ? undefined : 0))]),
      hours: [],
      works: [],
    });
    expect(seriesOf(gap, "B").points.length).toBe(3);
    expect(seriesOf(gap, "A").points.length).toBe(4);
    expect(trendOf(seriesOf(gap, "B"), "hours").kind).toBe("none");
  });

  it("is put in order by date", () => {
    const turned = historyOf({ wing, checks: dated([...shrinking].reverse()), hours, works: [] });
    expect(turned.checks.map(({ date }) => date)).toEqual(["2024-01-01", "2025-01-01", "2026-01-01"]);
  });
});

describe("work between two checks", () => {
  // Shrinks by 3 mm a year; after the second check a loop of 13 mm is taken out on the left A line.
  const checks = dated(
    ["2023-01-01", "2024-01-01", "2024-01-01", "2025-01-01", "2026-01-01"].map((date, at) =>
      checkOff(date, (row, side) => (row === "A" && side === "left" ? [0, -3, 10, 7, 4][at] : -1)),
    ),
  );
  const works = [{ day: "2024-01-01", kind: "loops" as const, lineKeys: ["left:AL1"] }];

  it("cuts the series of the rows that it moves, and of no other", () => {
    const history = historyOf({ wing, checks, hours: [], works });
    expect(seriesOf(history, "A", "left").points.map(({ stretch }) => stretch)).toEqual([0, 0, 1, 1, 1]);
    expect(seriesOf(history, "A").points.map(({ stretch }) => stretch)).toEqual([0, 0, 1, 1, 1]);
    expect(seriesOf(history, "A", "right").points.map(({ stretch }) => stretch)).toEqual([0, 0, 0, 0, 0]);
    expect(seriesOf(history, "B").points.map(({ stretch }) => stretch)).toEqual([0, 0, 0, 0, 0]);
    const pair = seriesOf(history, "A", undefined, "B").points;
    expect(pair.map(({ stretch }) => stretch)).toEqual([0, 0, 1, 1, 1]);
  });

  it("after the last check leaves open where the row stands", () => {
    const since = (day: string) =>
      historyOf({ wing, checks, hours: [], works: [...works, { ...works[0]!, day }] })
        .series.filter(({ changedSince }) => changedSince)
        .map(({ row, side, against }) => [row, side, against]);
    const left = [
      ["A", undefined, undefined],
      ["A", "left", undefined],
      ["A", undefined, "B"],
    ];
    expect(since("2026-03-01")).toEqual(left);
    expect(since("2026-01-01")).toEqual(left);
    expect(since("2025-12-31")).toEqual([]);
  });

  it("counts as done after the day’s only check", () => {
    const single = checks.filter(({ id }) => id !== "c3");
    const history = historyOf({ wing, checks: single, hours: [], works });
    expect(seriesOf(history, "A", "left").points.map(({ stretch }) => stretch)).toEqual([0, 0, 1, 1]);
  });

  it("doesn’t count as growing: the row goes on shrinking by 3 mm a year", () => {
    const cut = trendOf(seriesOf(historyOf({ wing, checks, hours: [], works }), "A", "left"), "date");
    const blind = trendOf(seriesOf(historyOf({ wing, checks, hours: [], works: [] }), "A", "left"), "date");
    expect(cut.kind === "slope" && cut.slopeM * 365.25).toBeCloseTo(-0.003, 5);
    expect(cut.kind === "slope" && cut.fit.explained).toBe(true);
    expect(blind.kind === "slope" && blind.slopeM).toBeGreaterThan(0);
    expect(blind.kind === "slope" && blind.fit.explained).toBe(false);
  });

  it("leaves a difference where a stretch has two checks, and nothing where each has one", () => {
    const two = trendOf(
      seriesOf(historyOf({ wing, checks: checks.slice(0, 3), hours: [], works }), "A", "left"),
      "date",
    );
    expect(two.kind === "difference" && Math.round(two.changeM * 1000)).toBe(-3);
    expect(two.kind === "difference" && [two.from.checkId, two.to.checkId]).toEqual(["c1", "c2"]);
    const one = trendOf(
      seriesOf(historyOf({ wing, checks: checks.slice(1, 3), hours: [], works }), "A", "left"),
      "date",
    );
    expect(one.kind).toBe("none");
  });
});

describe("what the loop books tell of work", () => {
  const bookOf = (text: string) => {
    const read = readBook({ text }, wing);
    if (!read.ok) throw new Error(read.problems[0]?.message);
    return read.value;
  };

  it("are the lines that went back with another loop, on the day of their card; once, though several books have it", () => {
    const opened = bookOf(bookText("2026-01-03", "plain eye"));
    const asBefore = bookOf(bookText("2025-01-03", "girth hitch"));
    expect(worksIn(wing, [opened, opened, asBefore])).toEqual([
      { day: "2026-01-03", kind: "loops", lineKeys: ["left:AL1"] },
    ]);
  });

  it("are lines that were replaced, on each of their sides, where the day is known", () => {
    const replaced = bookOf(
      JSON.stringify({
        format: "linewright-loops",
        version: 1,
        replacements: [
          { line: "BM1", sides: ["left", "right"], date: "2026-02-01" },
          { line: "AM1", sides: ["left"] },
        ],
      }),
    );
    expect(worksIn(wing, [replaced])).toEqual([
      { day: "2026-02-01", kind: "replaced", lineKeys: ["left:BM1", "right:BM1"] },
    ]);
  });
});

describe("two checks", () => {
  const history = historyOf({
    wing,
    checks: dated([
      checkOff("2024-01-01", () => 0),
      checkOff("2025-01-01", () => -1),
      checkOff("2026-01-01", (row) => (row === "B" ? -9 : -2)),
    ]),
    hours: [],
    works: [],
  });

  it("of the history may be any two, the earlier one first", () => {
    const { before, after, rows } = compareTwo(history, "c3", "c1");
    expect([before.date, after.date]).toEqual(["2024-01-01", "2026-01-01"]);
    const b = rows.find(({ row }) => row === "B");
    expect([b?.beforeM, b?.afterM].map((each) => Math.round((each ?? 1) * 1000))).toEqual([0, -9]);
  });

  it("must be of the history, and two", () => {
    expect(() => compareTwo(history, "c1", "c9")).toThrow(RangeError);
    expect(() => compareTwo(history, "c1", "c1")).toThrow(RangeError);
  });
});

describe("what is left in loops", () => {
  it("is what can be taken out down to the plain eye, by row", () => {
    expect(loopsLeft(lineLoops(wing, EMPTY_BOOK))).toEqual([
      { row: "A", lines: 2, meanM: 0.013, leastM: 0.013, usedUp: [], recorded: 0 },
      { row: "B", lines: 2, meanM: 0, leastM: 0, usedUp: ["left:BL1", "right:BL1"], recorded: 0 },
    ]);
  });
});

describe("a kept check", () => {
  it("is read from its file, and from a table with its day in the comments or kept beside it", () => {
    const day = (check: Parameters<typeof readCheck>[0]) => {
      const read = readCheck(check, wing);
      return read.ok ? read.value.date : read.problems[0]?.message;
    };
    const table = "tab,left\nA1,6767\n";
    expect(day({ name: "a", text: checkText("2026-01-02", 6770) })).toBe("2026-01-02");
    expect(day({ name: "a", text: table, frame: { ...FRAME, date: "2026-01-03" } })).toBe("2026-01-03");
    expect(day({ name: "a", text: `# date: 2026-01-04\n${table}` })).toBe("2026-01-04");
    expect(day({ name: "a", text: table })).toBe(
      "The table of readings doesn’t say on which day it was read.",
    );
  });
});
