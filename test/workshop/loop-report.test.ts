import { describe, expect, it } from "vitest";
import { cautionFull } from "../../src/diagnosis/caution.ts";
import type { Path } from "../../src/plan/model.ts";
import { readingUncertainty } from "../../src/readings/uncertainty.ts";
import { defaultChoices, planLoops } from "../../src/workshop/loop-plan.ts";
import { loopReport } from "../../src/workshop/loop-report.ts";
import type { LineLoops, LoopChoices } from "../../src/workshop/model.ts";
import { madeDeviations } from "../diagnosis/made.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";
import { loopsOf } from "./loop-cases.ts";

const wing = wingOf(samplePlan());

function reportOn(
  ofPath: (path: Path) => number | undefined,
  loops: readonly LineLoops[] = loopsOf(wing, () => 1),
  choices: Partial<LoopChoices> = {},
) {
  const deviations = madeDeviations(wing, ofPath);
  const check = {
    wingName: undefined,
    date: "2026-03-14",
    tensionN: 50,
    from: "riser" as const,
    instrumentZeroM: 0,
    instrument: undefined,
    resolutionM: 0.001,
    note: undefined,
    readings: [],
  };
  const using = { ...defaultChoices(wing, loops), symmetry: "free" as const, ...choices };
  const uncertainties = readingUncertainty(wing, check, deviations);
  const { best } = planLoops(wing, deviations, loops, using);
  const report = loopReport({ wing, deviations, uncertainties, loops, choices: using, plan: best });
  return { report, best, uncertainties, loops };
}
const of = (report: ReturnType<typeof reportOn>["report"], name: string) =>
  report.unreachable.find((path) => path.name === name);

describe("what a loop plan leaves", () => {
  it("predicts each path by the change below it, and adds the take-ups' uncertainty to the readings'", () => {
    const { report, best, uncertainties } = reportOn((path) => (path.row === "D" ? -0.011 : 0));
    const change = best.changes.find(({ lineKey }) => lineKey === "left:D1");
    const tab = wing.paths.findIndex((path) => path.lineKeys[0] === "left:D1");
    const after = report.paths.find((path) => path.tabKey === wing.paths[tab]?.tabKey);
    expect(change?.changeM).toBeCloseTo(0.0099, 9);
    expect(after?.predictedM).toBeCloseTo(-0.011 + 0.0099 - best.sharedM, 12);
    expect(after?.standardUncertaintyM).toBeCloseTo(
      Math.hypot(uncertainties.totalM[tab] as number, change?.standardUncertaintyM as number),
      9,
    );
    const path = report.assessment.assessed.find((one) => one.kind === "path" && one.subject === "D1 left");
    expect(path?.standardUncertaintyM).toBeCloseTo(after?.standardUncertaintyM as number, 9);
    expect(report.unreachable).toEqual([]);
    expect(report.cautions).toEqual(cautionFull());
  });
  it("names the upper line where the tabs of one lower line disagree", () => {
    const { report } = reportOn((path) => (path.lineKeys.includes("left:B1.2.1") ? 0.03 : 0));
    expect(of(report, "B3 left")?.reason).toBe("uppers disagree");
    expect(of(report, "B3 left")?.replaceNames).toEqual(["B1.2.1 left"]);
    const middle = reportOn((path) => (path.lineKeys.includes("left:B1.2") ? 0.03 : 0)).report;
    expect(of(middle, "B3 left")?.replaceNames).toContain("B1.2 left");
  });
  it("says where a line is shorter than loops can give back, and asks for a full check", () => {
    const { report } = reportOn((path) => (path.lineKeys[0] === "right:C2" ? -0.04 : 0));
    expect(of(report, "C5 right")).toMatchObject({ reason: "too short", replaceNames: ["C2 right"] });
    expect(report.followUp.join(" ")).toContain("C2 right");
    expect(report.followUp.join(" ")).toContain("every line checked under load");
  });
  it("says that a brake line is no loop's matter", () => {
    const { report } = reportOn((path) => (path.row === "brake" ? -0.03 : 0));
    expect(of(report, "K1 left")?.reason).toBe("brake");
    expect(of(report, "K1 left")?.predictedM).toBeCloseTo(-0.03, 12);
  });
  it("says what the person's choices keep from being mended", () => {
    const loops = loopsOf(wing, () => 1);
    const off = (path: Path): number => (path.lineKeys[0] === "left:C1" ? -0.016 : 0);
    const locked = reportOn(off, loops, { mayChange: new Set(["left:A1"]) }).report;
    expect(of(locked, "C1 left")?.reason).toBe("locked");
    const reserved = reportOn(off, loops, { reserveM: 0.005, mayChange: new Set(["left:C1"]) }).report;
    expect(of(reserved, "C1 left")?.reason).toBe("ruled out");
    expect(of(reserved, "C1 left")?.sentence).toContain("reserve");
    const none = reportOn(off, loops, { mostChanges: 0 }).report;
    expect(of(none, "C1 left")?.reason).toBe("outweighed");
  });
  it("counts what each row keeps to take out", () => {
    const { report } = reportOn((path) => (path.row === "D" ? -0.01 : 0));
    const row = (name: string) => report.reserve.find((one) => one.row === name);
    expect(row("A")).toMatchObject({ leastM: 0.0099, used: [] });
    expect(row("D")?.leastM).toBe(0);
    expect(row("D")?.used).toHaveLength(4);
    expect(row("D")?.sentence).toContain("nothing to take out");
  });
});
