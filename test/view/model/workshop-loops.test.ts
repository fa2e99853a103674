import { describe, expect, it } from "vitest";
import { DEMOS } from "../../../src/demo/index.ts";
import { parsePlan } from "../../../src/plan/index.ts";
import { deviations, parseCheckText, readingUncertainty } from "../../../src/readings/index.ts";
import {
  changeEntries,
  differing,
  leadPlan,
  leadText,
  MOST_OF_IT,
  planChosen,
  planPoints,
  takeUpText,
} from "../../../src/view/model/workshop-loops.ts";
import { handRows, tiedByHand } from "../../../src/view/model/workshop-loops-hand.ts";
import { blockedTexts, countOf, leftByRow, rowsApart } from "../../../src/view/model/workshop-loops-left.ts";
import {
  chosenBy,
  defaultChoices,
  EMPTY_BOOK,
  type LoopPlan,
  lineLoops,
  loopReport,
  planLoops,
} from "../../../src/workshop/index.ts";

function bench(id: "school" | "second") {
  const plan = parsePlan(DEMOS[id].plan);
  if (!plan.ok) throw new Error("The demo plan is faulty.");
  const wing = plan.value;
  const check = parseCheckText(JSON.stringify(DEMOS[id].check), wing);
  if (!check.ok) throw new Error("The demo check is faulty.");
  const read = deviations(wing, check.value);
  const loops = lineLoops(wing, EMPTY_BOOK);
  const choices = { ...defaultChoices(wing, loops), worthM: 0.002 };
  const plans = planLoops(wing, read, loops, choices);
  const uncertainties = readingUncertainty(wing, check.value, read);
  const report = (its: LoopPlan) =>
    loopReport({ wing, deviations: read, uncertainties, loops, choices, plan: its });
  return { wing, loops, plans, report };
}

const school = bench("school");
const toleranceM = school.wing.tolerances.pathM;

describe("the plan to lead with", () => {
  it("is the smallest that brings nine tenths of what the best brings", () => {
    const { plans } = school;
    const lead = leadPlan(plans);
    expect(lead.changes.length).toBeLessThan(plans.best.changes.length);
    expect(lead.reached).toBeGreaterThanOrEqual(MOST_OF_IT * plans.best.reached);
    for (const plan of plans.frontier)
      if (plan.changes.length < lead.changes.length)
        expect(plan.reached).toBeLessThan(MOST_OF_IT * plans.best.reached);
  });

  it("is no larger than the most changes that are allowed", () => {
    const { plans } = school;
    const few = { ...plans, best: plans.frontier[2] as LoopPlan };
    expect(leadPlan(few).changes.length).toBeLessThanOrEqual(few.best.changes.length);
    expect(leadPlan(few)).toBe(
      plans.frontier.find(({ reached }) => reached >= MOST_OF_IT * few.best.reached),
    );
  });

  it("is presented beside the best, with what it leaves", () => {
    const { head, body } = leadText(school.plans, toleranceM);
    const lead = leadPlan(school.plans);
    expect(head).toContain(`${lead.changes.length} changes of loop give nine tenths`);
    expect(head).toContain(`the best plan has ${school.plans.best.changes.length}`);
    expect(body).toContain(`to ${(lead.rmsM * 1000).toFixed(1)} mm`);
    expect(body).toMatch(/beyond ±10 mm, where there are \d+ now\.$/);
  });

  it("is no change where none is worth it, and that is said", () => {
    const { plans, wing } = bench("second");
    const none = { ...plans, best: plans.present };
    expect(leadPlan(none).changes).toHaveLength(0);
    expect(leadText(none, wing.tolerances.pathM).head).toBe("No change of loop is worth it");
  });
});

describe("the frontier's points", () => {
  it("are in the order of their changes; one leads, one is the best", () => {
    const points = planPoints(school.plans, toleranceM);
    expect(points.map(({ changes }) => changes)).toEqual(
      school.plans.frontier.map(({ changes }) => changes.length),
    );
    expect(points.filter(({ standing }) => standing === "best")).toHaveLength(1);
    expect(points.filter(({ standing }) => standing === "nine tenths")).toHaveLength(1);
    expect(points[0]?.text).toMatch(/^As it is, no change: .* beyond ±10 mm$/);
    expect(points[1]?.text).toMatch(/^2 changes: .*; \d+\u00a0% of the way$/);
  });

  it("are found again from the loops that they end with, whatever else stands among those chosen", () => {
    const { plans, loops } = school;
    const lead = leadPlan(plans);
    expect(planChosen(plans, loops, chosenBy(lead))).toBe(lead);
    expect(planChosen(plans, loops, new Map())).toBe(plans.present);
    expect(planChosen(plans, loops, new Map([...chosenBy(lead), ["left:elsewhere", "girth"]]))).toBe(lead);
    const [first] = lead.changes;
    const own = new Map(chosenBy(lead));
    own.delete(first?.lineKey ?? "");
    expect(planChosen(plans, loops, own)).toBeUndefined();
  });
});

describe("the table of changes", () => {
  it("has twins that change alike as one, and what is left of a plan beside what is tried", () => {
    const { wing, loops, plans } = school;
    const lead = leadPlan(plans);
    const all = changeEntries(wing, loops, [], lead.changes).flatMap(([, entries]) => entries);
    expect(all.every(({ tried, lines }) => !tried && lines.length === 2)).toBe(true);
    expect(all.flatMap(({ lines }) => lines)).toHaveLength(lead.changes.length);

    const [first] = lead.changes;
    const apart = changeEntries(wing, loops, first === undefined ? [] : [first], lead.changes).flatMap(
      ([, entries]) => entries,
    );
    const own = apart.filter(({ name }) => name === all[0]?.name);
    expect(own.map(({ tried, lines }) => [tried, lines.length])).toEqual([
      [true, 1],
      [false, 1],
    ]);
  });

  it("tells which lines differ between two choices, twins as one", () => {
    const { wing, loops } = school;
    const [line] = loops;
    const key = line?.lineKey ?? "";
    const twin = line?.mirrorKey ?? "";
    const one = new Map([
      [key, "girth"],
      [twin, "girth"],
    ]);
    const found = differing(wing, loops, one, new Map([[key, "girth"]]));
    expect(found).toHaveLength(1);
    expect(found[0]?.sides).toEqual(["right"]);
    expect(differing(wing, loops, one, new Map()).map(({ sides }) => sides)).toEqual([["left", "right"]]);
    expect(differing(wing, loops, one, one)).toEqual([]);
  });

  it("says what a loop takes up, how surely, and from where", () => {
    const state = school.loops.find(({ row }) => row === "C")?.states;
    expect(state?.map(takeUpText)).toEqual([
      "no take-up",
      expect.stringMatching(/^\d+\.\d ± \d\.\d mm, estimate$/),
      expect.stringMatching(/^13\.0 ± \d\.\d mm, plan$/),
      expect.stringMatching(/^\d+\.\d ± \d\.\d mm, estimate$/),
    ]);
  });
});

describe("a loop changed by hand", () => {
  const { wing, loops } = school;
  const line = loops.find(({ row, side }) => row === "C" && side === "left");
  if (line?.mirrorKey === undefined) throw new Error("The demo has no twins.");
  const { lineKey, mirrorKey, present } = line;

  it("goes for that line alone, or for its twin as well", () => {
    expect([...tiedByHand(loops, new Map(), lineKey, 0, false)]).toEqual([[lineKey, "plain"]]);
    expect([...tiedByHand(loops, new Map(), lineKey, 0, true)]).toEqual([
      [lineKey, "plain"],
      [mirrorKey, "plain"],
    ]);
  });

  it("that is as it is now is none that is tried", () => {
    const tried = tiedByHand(loops, new Map(), lineKey, 0, true);
    expect(tiedByHand(loops, tried, lineKey, present, true).size).toBe(0);
    expect([...tiedByHand(loops, tried, lineKey, present, false).keys()]).toEqual([mirrorKey]);
  });

  it("leaves the choice before as it was, and an unknown line alone", () => {
    const before = new Map([["left:elsewhere", "girth"]]);
    expect(tiedByHand(loops, before, lineKey, 0, false)).not.toBe(before);
    expect(before.size).toBe(1);
    expect(tiedByHand(loops, before, "left:elsewhere", 0, true)).toBe(before);
    expect(tiedByHand(loops, before, lineKey, 99, true)).toBe(before);
  });

  it("shows beside its twin, by row, with the state that it is tried in", () => {
    const rows = handRows(wing, loops, tiedByHand(loops, new Map(), lineKey, 0, false));
    expect(rows.map(([row]) => row)).toEqual(["A", "B", "C", "D", "tip"]);
    const entry = rows.flatMap(([, entries]) => entries).find(({ sides }) => sides.left?.lineKey === lineKey);
    expect(entry?.sides.left?.now).toBe(0);
    expect(entry?.sides.right?.now).toBe(present);
  });
});

describe("what is left", () => {
  const { wing, plans, report, loops } = school;
  const before = report(plans.present);
  const after = report(plans.best);

  it("stands row by row, and adds up to the plan's own figures", () => {
    const rows = leftByRow(wing, before, after);
    expect(rows.map(({ row }) => row)).toEqual(["A", "B", "C", "D", "tip"]);
    const total = (which: "before" | "after"): number =>
      Math.sqrt(
        rows.reduce((sum, row) => sum + row.read * row[which].rmsM ** 2, 0) /
          rows.reduce((sum, { read }) => sum + read, 0),
      );
    expect(total("before")).toBeCloseTo(plans.present.rmsM, 9);
    expect(total("after")).toBeCloseTo(plans.best.rmsM, 9);
    expect(rows.reduce((sum, row) => sum + row.before.beyond, 0)).toBe(plans.present.beyond);
    expect(rows.reduce((sum, row) => sum + row.after.beyond, 0)).toBe(plans.best.beyond);
    expect(rows.every(({ reserve }) => reserve !== undefined)).toBe(true);
  });

  it("brings the rows nearer to each other, and counts decisions without the brakes", () => {
    const apart = rowsApart(before, after);
    expect(apart.map(({ front, rear }) => front + rear)).toContain("AD");
    const ad = apart.find(({ front, rear }) => front + rear === "AD");
    expect(Math.abs(ad?.afterM ?? 1)).toBeLessThan(Math.abs(ad?.beforeM ?? 0));
    const paths = countOf(after, "path");
    const read = after.paths.length - wing.paths.filter(({ row }) => row === "brake").length;
    expect(paths.conforms + paths.undecided + paths["does not conform"]).toBeGreaterThanOrEqual(read);
  });

  it("names the lines that stand in the way, or counts them where they are many", () => {
    const few = loops.slice(0, 2).map(({ lineKey }) => ({ lineKey, reason: "locked" as const }));
    expect(blockedTexts(wing, few)).toEqual(["AL1 left, AL2 left: may not change, by your choice."]);
    const many = loops.map(({ lineKey }) => ({ lineKey, reason: "not read" as const }));
    expect(blockedTexts(wing, many)[0]).toBe(`${loops.length} lines: no path above was read.`);
  });
});
