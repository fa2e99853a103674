import { describe, expect, it } from "vitest";
import { assess } from "../../../src/diagnosis/assess.ts";
import type { Check } from "../../../src/readings/index.ts";
import { deviations } from "../../../src/readings/index.ts";
import { readingUncertainty } from "../../../src/readings/uncertainty.ts";
import type { Done } from "../../../src/view/model/workshop-recheck.ts";
import {
  apartRows,
  changeRows,
  changesSentence,
  limitRows,
  movedOf,
  pathRows,
  rowsAxis,
  rowsRows,
  shiftSentence,
  sortedPaths,
} from "../../../src/view/model/workshop-recheck-tables.ts";
import { type ChangeComparison, type CheckedState, compareChecks } from "../../../src/workshop/index.ts";
import { checkOf, sampleWing } from "../stand-in.ts";

const wing = sampleWing();

function stateOf(check: Check): CheckedState {
  const found = deviations(wing, check);
  return { deviations: found, uncertainties: readingUncertainty(wing, check, found) };
}
const linesOf = new Map(wing.paths.map((path) => [path.tabKey, path.lineKeys]));
const above = (tabKey: string, lineKey: string): boolean => linesOf.get(tabKey)?.includes(lineKey) ?? false;
const doneOn = (lineKey: string): Done => ({
  lineKey,
  name: lineKey.replace(/^(\w+):(.*)$/, "$2 $1"),
  what: "girth hitch → plain eye",
  changeM: 0.013,
  standardUncertaintyM: 0.0005,
  kindId: "plain",
});
const DONE = ["left:C1", "right:C1"].map(doneOn);
const before = stateOf(checkOf(wing, (key) => (/:C/.test(key) ? -15 : 1)));
/** The left line was tied anew, the right one forgotten. */
const after = stateOf(checkOf(wing, (key) => (/:C/.test(key) ? -15 : 1) + (above(key, "left:C1") ? 13 : 0)));
const comparison = compareChecks(wing, before, after, DONE);
const rows = changeRows(comparison, DONE);

const made = (part: Partial<ChangeComparison>): ChangeComparison => ({
  lineKey: "left:C1",
  tabKeys: ["left:C1"],
  promisedM: 0.013,
  didM: 0.013,
  standardUncertaintyM: 0.001,
  outcome: "as promised",
  ...part,
});
const verdictOf = (part: Partial<ChangeComparison>) => changeRows({ changes: [made(part)] }, DONE)[0];

describe("the verdict on a change", () => {
  it("is that it kept its promise, or that it looks not done, with the line named in the sentence", () => {
    expect(rows.map(({ mark, looksUndone }) => [mark, looksUndone])).toEqual([
      ["kept", false],
      ["otherwise", true],
    ]);
    expect(rows[1]?.verdict).toBe("looks not done");
    expect(changesSentence(rows)).toMatch(
      /^1 of 2 changes did what they promised; C1 right came out otherwise/,
    );
  });

  it("says which way a change went that came out otherwise", () => {
    expect(verdictOf({ didM: 0.02, outcome: "otherwise" })?.verdict).toBe("moved more");
    expect(verdictOf({ didM: 0.006, outcome: "otherwise" })?.verdict).toBe("moved less");
    expect(verdictOf({ didM: -0.006, outcome: "otherwise" })?.verdict).toBe("moved the other way");
  });

  it("doesn't praise a change too small to be told from nothing, nor judge one that wasn't read", () => {
    expect(verdictOf({ promisedM: 0.0015, didM: 0.001 })?.mark).toBe("open");
    const unread = verdictOf({ didM: undefined, standardUncertaintyM: undefined, outcome: "not read" });
    expect(unread?.mark).toBe("unread");
    expect(unread?.looksUndone).toBe(false);
    expect(changesSentence(unread === undefined ? [] : [unread])).toContain("wasn’t read on both days");
  });
});

describe("what else moved", () => {
  it("is said to be nothing where nothing did", () => {
    expect(movedOf(wing, comparison).count).toBe(0);
    expect(movedOf(wing, comparison).sentence).toMatch(/^No path moved/);
  });

  it("is named path by path, and counted where there are many", () => {
    const few = movedOf(wing, { movedTabKeys: ["left:B2"] });
    expect(few.sentence).toMatch(/^1 path moved though nothing is said to have been done to it: B2 left\./);
    const many = movedOf(wing, { movedTabKeys: wing.tabs.slice(0, 20).map(({ key }) => key) });
    expect(many.sentence).toContain("14 more");
    expect(many.lineKeys).toHaveLength(20);
  });

  it("keeps a shift apart that all paths share", () => {
    expect(shiftSentence({ shiftM: 0.0015, shiftRemoved: true })).toMatch(/\+1\.5 mm .*taken out/);
    expect(shiftSentence({ shiftM: 0.0015, shiftRemoved: false })).toMatch(/too few .*left in/);
    expect(shiftSentence({ shiftM: undefined, shiftRemoved: false })).toMatch(/can’t be told/);
  });
});

describe("rows, limits and paths", () => {
  it("have a planned state only where something was to be done", () => {
    expect(rowsRows(comparison, true).find(({ row }) => row === "C")?.plannedM).toBeGreaterThan(-0.015);
    expect(rowsRows(comparison, false).every(({ plannedM }) => plannedM === undefined)).toBe(true);
  });

  it("share an axis that holds zero and every mark, and leave brakes that are far off to one of their own", () => {
    const main = { row: "C", name: "C", beforeM: -0.012, plannedM: 0, afterM: 0.001 } as const;
    const brake = {
      row: "brake",
      name: "Brake",
      beforeM: -0.074,
      plannedM: undefined,
      afterM: -0.073,
    } as const;
    const [low, high] = rowsAxis([main]);
    expect(low).toBeLessThan(-0.012);
    expect(high).toBeGreaterThan(0.001);
    expect(apartRows([main, brake])).toEqual([[main], [brake]]);
    expect(apartRows([main, { ...brake, beforeM: -0.01, afterM: -0.01 }])).toHaveLength(1);
  });

  it("count the limits kept and not, before and after, and add up", () => {
    const assessed = ({ deviations: found, uncertainties }: CheckedState) => ({
      assessment: assess(wing, found, uncertainties),
    });
    const table = limitRows(wing, assessed(before), assessed(after));
    const total = table[table.length - 1];
    for (const place of [0, 1] as const)
      for (const of of ["out", "undecided", "conforms"] as const)
        expect(total?.[of][place]).toBe(table.slice(0, -1).reduce((sum, row) => sum + row[of][place], 0));
    const paths = table.find(({ name }) => name === "Paths");
    expect(paths?.out[1]).toBeLessThan(paths?.out[0] ?? 0);
    expect(limitRows(wing, { assessment: undefined }, assessed(after))).toEqual([]);
  });

  it("sort by the size of the difference, and put what wasn't read last either way", () => {
    const all = pathRows(wing, comparison);
    const unread = all.map((row, index) => (index === 3 ? { ...row, difference: undefined } : row));
    for (const descending of [true, false]) {
      const sorted = sortedPaths(unread, "difference", descending);
      expect(sorted[sorted.length - 1]?.tab).toBe(3);
      const sizes = sorted.slice(0, -1).map(({ difference = 0 }) => Math.abs(difference));
      expect(sizes).toEqual([...sizes].sort((a, b) => (descending ? b - a : a - b)));
    }
    expect(sortedPaths(all, "tab", false).map(({ tab }) => tab)).toEqual(all.map((_, tab) => tab));
  });
});
