import { describe, expect, it } from "vitest";
import { assess } from "../../../src/diagnosis/assess.ts";
import { DECISION_RULES } from "../../../src/diagnosis/conformity.ts";
import { uniformPart, withoutUniform } from "../../../src/diagnosis/uniform.ts";
import { deviations, readingUncertainty } from "../../../src/readings/index.ts";
import { toleranceNote, uniformConsequence } from "../../../src/view/model/judging-choices.ts";
import {
  beyondM,
  decisionGroups,
  filterDecisions,
  foldDecisions,
} from "../../../src/view/model/judging-decisions.ts";
import {
  halfDomain,
  joinedRuns,
  meanOfSides,
  onOwnScale,
  pairPanels,
  robustTrend,
  spanPanels,
  stepFrom,
} from "../../../src/view/model/judging-halfspan.ts";
import { rowMatrices } from "../../../src/view/model/judging-rows.ts";
import { checkOf, sampleWing, standIn } from "../stand-in.ts";

const wing = sampleWing();
const rowOf = new Map(wing.tabs.map(({ key, row }) => [key, row]));

function judged(offMm: (tabKey: string) => number | undefined, rule = DECISION_RULES.drawing) {
  const check = checkOf(wing, offMm);
  const analysis = standIn(wing, check);
  const uncertainties = readingUncertainty(wing, check, analysis.deviations);
  const assessment = assess(wing, analysis.deviations, uncertainties, rule);
  return { check, analysis, uncertainties, assessment };
}

const rearShort = (key: string): number =>
  (({ B: -4, C: -16 }) as Record<string, number>)[rowOf.get(key) ?? ""] ?? 0;

describe("rows against each other", () => {
  it("are positive where the row behind is the shorter, and the same figures as the core's decisions", () => {
    const { analysis, uncertainties, assessment } = judged(rearShort);
    const { both } = rowMatrices(wing, analysis.deviations, uncertainties, DECISION_RULES.drawing);
    const core = assessment.assessed.filter(({ kind }) => kind === "rows");
    expect(both.differences).toHaveLength(core.length);
    both.differences.forEach((difference, i) => {
      expect([difference.front, difference.rear]).toEqual(core[i]?.rows);
      expect(difference.valueM).toBeCloseTo(core[i]?.valueM ?? Number.NaN, 12);
      expect(difference.standardUncertaintyM).toBeCloseTo(core[i]?.standardUncertaintyM ?? Number.NaN, 12);
      expect(difference.decision.outcome).toBe(core[i]?.decision.outcome);
    });
    const ac = both.differences.find(({ front, rear }) => front === "A" && rear === "C");
    expect(ac?.valueM).toBeCloseTo(0.016, 6);
    expect(ac?.decision.outcome).toBe("does not conform");
  });

  it("of one side are made of that side's tabs and lines alone", () => {
    const { analysis, uncertainties } = judged((key) =>
      key.startsWith("left") && rowOf.get(key) === "C" ? -12 : 0,
    );
    const { left, right } = rowMatrices(wing, analysis.deviations, uncertainties, DECISION_RULES.drawing);
    const ac = (side: typeof left) =>
      side.differences.find(({ front, rear }) => front === "A" && rear === "C");
    expect(ac(left)?.valueM).toBeCloseTo(0.012, 6);
    expect(ac(right)?.valueM).toBeCloseTo(0, 6);
    expect(ac(left)?.lineKeys.every((key) => key.startsWith("left:"))).toBe(true);
    const rows = new Set(
      wing.lines.filter(({ key }) => ac(left)?.lineKeys.includes(key)).map(({ row }) => row),
    );
    expect(rows).toEqual(new Set(["A", "C"]));
  });

  it("say nothing of a row that wasn't read, but name it", () => {
    const { analysis, uncertainties } = judged((key) => (rowOf.get(key) === "C" ? undefined : 0));
    const { both } = rowMatrices(wing, analysis.deviations, uncertainties, DECISION_RULES.drawing);
    expect(both.means.find(({ row }) => row === "C")?.meanM).toBeUndefined();
    expect(both.differences.some(({ front, rear }) => front === "C" || rear === "C")).toBe(false);
  });
});

describe("pairs along the half-span", () => {
  const { analysis, assessment } = judged((key) =>
    key === "left:A2" ? 7 : key === "right:A3" ? undefined : 1,
  );
  const panels = pairPanels(analysis, assessment);
  const point = (key: string) => panels.flatMap(({ points }) => points).find(({ tabKey }) => tabKey === key);

  it("are left less right, one a pair, from the middle to the tip", () => {
    expect(point("left:A2")?.valueM).toBeCloseTo(0.006, 6);
    expect(point("left:A1")?.valueM).toBeCloseTo(0, 6);
    const count = panels.reduce((sum, panel) => sum + panel.points.length, 0);
    expect(count).toBe(wing.tabs.length / 2);
    for (const { points } of panels) expect([...points].sort((a, b) => a.x - b.x)).toEqual(points);
  });

  it("are a gap that says which side is missing", () => {
    expect(point("left:A3")?.valueM).toBeUndefined();
    expect(point("left:A3")?.text).toMatch(/right not read/);
    const row = panels.find(({ row }) => row === "A");
    const runs = joinedRuns(row?.points ?? []);
    expect(runs.flat().some(({ tabKey }) => tabKey === "left:A3")).toBe(false);
    expect(runs.length).toBeGreaterThan(1);
  });

  it("change sign where the sides are exchanged", () => {
    const mirrored = judged((key) => (key === "right:A2" ? 7 : 1));
    const other = pairPanels(mirrored.analysis, mirrored.assessment)
      .flatMap(({ points }) => points)
      .find(({ tabKey }) => tabKey === "left:A2");
    expect(other?.valueM).toBeCloseTo(-0.006, 6);
  });

  it("know both lines and tabs of a pair", () => {
    expect(point("left:A2")?.tabKeys).toEqual(["left:A2", "right:A2"]);
    expect(point("left:A2")?.lineKeys).toHaveLength(2);
  });
});

describe("rows along the span", () => {
  it("lay the right side over the left at the same distance from the middle", () => {
    const { analysis, assessment } = judged(rearShort);
    const row = spanPanels(analysis, assessment).find(({ row }) => row === "A");
    const at = (side: string) =>
      (row?.points ?? []).filter((point) => point.side === side).map(({ x }) => Number(x.toFixed(9)));
    expect(at("left")).toEqual(at("right"));
    expect(at("left").every((x) => x >= 0 && x <= 1)).toBe(true);
  });

  it("join the mean of the sides, or the side that was read", () => {
    const { analysis, assessment } = judged((key) =>
      key === "right:A1" ? undefined : key.startsWith("left") ? 2 : 6,
    );
    const row = spanPanels(analysis, assessment).find(({ row }) => row === "A");
    const [first, second] = meanOfSides(row?.points ?? []);
    expect(first?.valueM).toBeCloseTo(0.002, 6);
    expect(second?.valueM).toBeCloseTo(0.004, 6);
  });

  it("put shrunk brakes on their own scale and leave the others theirs", () => {
    const { analysis, assessment } = judged((key) => (rowOf.get(key) === "brake" ? -70 : -3));
    const panels = spanPanels(analysis, assessment);
    const apart = onOwnScale(panels, 0.01);
    expect([...apart]).toEqual(["brake"]);
    const [low, high] = halfDomain(
      panels.filter(({ row }) => !apart.has(row)),
      0.01,
    );
    expect(low).toBeGreaterThan(-0.02);
    expect(high).toBeGreaterThanOrEqual(0.01);
  });

  it("have a trend that a single blunder hardly moves", () => {
    const { analysis, assessment } = judged((key) => (key === "left:A2" ? 100 : 2));
    const row = spanPanels(analysis, assessment).find(({ row }) => row === "A");
    const trend = robustTrend(row?.points ?? []);
    expect(trend?.toTipM).toBeCloseTo(0, 4);
    expect(trend?.atMiddleM).toBeCloseTo(0.002, 4);
    expect(robustTrend((row?.points ?? []).slice(0, 4))).toBeUndefined();
  });

  it("are walked by the arrows: along a row, and to the nearest point of the row above or below", () => {
    const { analysis, assessment } = judged((key) => (key === "left:A2" ? undefined : 0));
    const panels = pairPanels(analysis, assessment);
    const [a, b] = panels;
    const first = a?.points[0];
    if (first === undefined) throw new Error("no point");
    expect(stepFrom(panels, first, "ArrowRight")?.tabKey).toBe("left:A3");
    expect(stepFrom(panels, first, "ArrowLeft")).toBeUndefined();
    expect(stepFrom(panels, first, "ArrowDown")?.row).toBe(b?.row);
    expect(stepFrom(panels, first, "ArrowUp")).toBeUndefined();
    expect(stepFrom(panels, first, "Enter")).toBeUndefined();
  });
});

describe("the table of decisions", () => {
  const { assessment } = judged((key) => (key === "left:A1" ? 25 : key === "left:A2" ? 9.5 : 0));
  const groups = decisionGroups(wing, assessment);

  it("holds every decision once, brake paths apart from the others", () => {
    const count = groups.reduce((sum, { entries }) => sum + entries.length, 0);
    expect(count).toBe(assessment.assessed.length);
    const ids = groups.flatMap(({ entries }) => entries.map(({ id }) => id));
    expect(new Set(ids).size).toBe(ids.length);
  });

  it("shows only what the filter asks for, and counts as the core does", () => {
    for (const filter of ["does not conform", "undecided"] as const) {
      const shown = filterDecisions(groups, filter).flatMap(({ entries }) => entries);
      expect(shown).toHaveLength(assessment.count[filter]);
      expect(shown.every(({ decision }) => decision.outcome === filter)).toBe(true);
    }
    expect(filterDecisions(groups, "all")).toEqual(groups);
  });

  it("leads to the lines of the paths concerned", () => {
    const path = groups
      .find(({ id }) => id === "paths")
      ?.entries.find(({ subject }) => subject === "A1 left");
    expect(path?.decision.outcome).toBe("does not conform");
    expect(path?.lineKeys).toEqual(wing.paths.find(({ tabKey }) => tabKey === "left:A1")?.lineKeys);
  });
});

describe("the part that all rows share", () => {
  const check = checkOf(wing, (key) =>
    rowOf.get(key) === "brake" ? -30 : rowOf.get(key) === "C" ? -12 : -6,
  );
  const read = deviations(wing, check);
  const uncertainties = readingUncertainty(wing, check, read);
  const part = uniformPart(read, uncertainties);

  it("leaves rows against each other as they are once it is removed", () => {
    if (part === undefined) throw new Error("nothing shared");
    const removed = withoutUniform(read, part);
    const before = rowMatrices(wing, read, uncertainties, DECISION_RULES.drawing).both.differences;
    const after = rowMatrices(wing, removed, uncertainties, DECISION_RULES.drawing).both.differences;
    after.forEach((difference, i) => {
      expect(difference.valueM).toBeCloseTo(before[i]?.valueM ?? Number.NaN, 12);
    });
    expect(uniformPart(removed, uncertainties)?.valueM).toBeCloseTo(0, 12);
  });

  it("never hides free travel that the brakes have lost", () => {
    if (part === undefined) throw new Error("nothing shared");
    const brakes = (of: typeof read) => of.paths.filter(({ row }) => row === "brake");
    expect(brakes(withoutUniform(read, part))).toEqual(brakes(read));
  });

  it("is explained in words that name what may go wrong", () => {
    expect(uniformConsequence("keep", part)).toMatch(/−\d/);
    expect(uniformConsequence("remove", part)).toMatch(/every path but the brakes/);
    expect(uniformConsequence("remove", undefined)).toMatch(/what all rows share/);
  });
});

describe("the limits' source", () => {
  it("is called common practice without a neutral source, unless the plan says better", () => {
    const common = "Common practice, no neutral source; the maker’s manual decides.";
    expect(toleranceNote({ source: "common practice" })).toBe(common);
    expect(toleranceNote({ source: "" })).toBe(common);
    expect(toleranceNote({ source: "maker's manual, page 12" })).toBe("As stated: maker's manual, page 12.");
    expect(toleranceNote({ source: "club rule" })).toBe("As stated: club rule. The maker’s manual decides.");
  });
});

describe("a long list of decisions", () => {
  const { assessment } = judged(rearShort);
  const group = decisionGroups(wing, assessment).find(({ id }) => id === "paths");

  it("is folded by row and side, the worst first, and every entry lies in exactly one fold", () => {
    if (group === undefined) throw new Error("no paths");
    expect(group.entries.length).toBeGreaterThan(8);
    const { worst, folds } = foldDecisions(group);
    const folded = folds.flatMap(({ entries }) => entries);
    expect(folded).toHaveLength(group.entries.length);
    expect(new Set(folded)).toEqual(new Set(group.entries));
    for (const { title, entries, count } of folds) {
      expect(new Set(entries.map(({ row, side }) => `${row} ${side}`)).size, title).toBe(1);
      expect(title).toMatch(
        entries[0]?.row === "tip" ? /^Tip lines (left|right)$/ : /^Row [A-D] (left|right)$/,
      );
      expect(count.conforms + count.undecided + count["does not conform"]).toBe(entries.length);
      const beyond = entries.map(beyondM);
      expect(beyond).toEqual(beyond.toSorted((a, b) => b - a));
    }
    expect(folds[0]?.title).toMatch(/^Row C /);
    const most = Math.max(...group.entries.map(beyondM));
    expect(worst).toHaveLength(3);
    expect(beyondM(worst[0] as (typeof worst)[number])).toBe(most);
  });

  it("stays open where it is short", () => {
    const [short] = decisionGroups(wing, assessment).filter(({ entries }) => entries.length <= 8);
    expect(short && foldDecisions(short)).toEqual({ worst: [], folds: [] });
  });

  it("counts beyond a limit on either side, and inside by the nearer one", () => {
    const limits = { lower: -0.01, upper: 0.01 };
    expect(beyondM({ valueM: -0.016, limits })).toBeCloseTo(0.006, 12);
    expect(beyondM({ valueM: 0.016, limits })).toBeCloseTo(0.006, 12);
    expect(beyondM({ valueM: 0.004, limits })).toBeCloseTo(-0.006, 12);
    expect(beyondM({ valueM: 0.008, limits: { lower: 0.05 } })).toBeCloseTo(0.042, 12);
  });
});
