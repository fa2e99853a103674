import { describe, expect, it } from "vitest";
import { DEMOS, type DemoName } from "../../src/demo/index.ts";
import { analyse } from "../../src/diagnosis/analyse.ts";
import type { Analysis } from "../../src/diagnosis/model.ts";
import { buildWingModel } from "../../src/geometry/build.ts";
import type { Wing } from "../../src/plan/model.ts";
import { parseCheck } from "../../src/readings/index.ts";
import type { Check } from "../../src/readings/model.ts";
import { degrees } from "../geometry/states.ts";
import { wingOf } from "../plan/factory.ts";

interface Case {
  readonly name: DemoName;
  readonly wing: Wing;
  readonly check: Check;
  readonly analysis: Analysis;
  readonly mirrored: Analysis;
}

/** The same readings with left and right exchanged. */
function mirrorOf(check: Check): Check {
  return {
    ...check,
    readings: check.readings.map((reading) => ({
      ...reading,
      target: { ...reading.target, side: reading.target.side === "left" ? "right" : "left" },
    })),
  };
}

const CASES = (["school", "second"] as const).map((name): Case => {
  const wing = wingOf(DEMOS[name].plan);
  const parsed = parseCheck(DEMOS[name].check, wing);
  if (!parsed.ok) throw new Error(parsed.problems[0]?.message);
  const model = buildWingModel(wing);
  return {
    name,
    wing,
    check: parsed.value,
    analysis: analyse(wing, parsed.value, { model }),
    mirrored: analyse(wing, mirrorOf(parsed.value), { model }),
  };
});
const [SCHOOL, LIGHT] = CASES as [Case, Case];
const swapped = (key: string): string =>
  key.startsWith("left") ? key.replace("left", "right") : key.replace("right", "left");

describe.each(CASES)("the $name demo wing and its check", ({ wing, check, analysis, mirrored }) => {
  it("is solved as measured", () => {
    expect(analysis.measured?.converged).toBe(true);
    expect(analysis.ribs.length).toBeGreaterThan(10);
    for (const rib of analysis.ribs) expect(Number.isFinite(rib.incidenceRad)).toBe(true);
  });

  it("has the rows' means that the check's own figures give", () => {
    for (const row of analysis.rows) {
      const offs: number[] = [];
      for (const { target, valuesM } of check.readings) {
        const key = `${target.side}:${target.id}`;
        const tab = target.kind === "tab" ? wing.tabs.findIndex((each) => each.key === key) : -1;
        if (tab < 0 || wing.tabs[tab]?.row !== row.row) continue;
        // Read at the plan's own datum and tension, so only the instrument's zero comes off.
        const read = valuesM.reduce((sum, value) => sum + value, 0) / valuesM.length;
        offs.push(read - check.instrumentZeroM - (wing.tabs[tab]?.statedPathM as number));
      }
      expect(row.measured).toBe(offs.length);
      // Rows have robust means: the median of the means of all pairs, each value with itself too.
      const pairs = offs
        .flatMap((one, i) => offs.slice(i).map((two) => (one + two) / 2))
        .sort((a, b) => a - b);
      const middle =
        ((pairs.at((pairs.length - 1) >> 1) as number) + (pairs.at(pairs.length >> 1) as number)) / 2;
      expect(row.meanM).toBeCloseTo(middle, 9);
      const worst = offs.reduce((most, off) => (Math.abs(off) > Math.abs(most) ? off : most), 0);
      expect(Math.abs(row.worstM as number)).toBeCloseTo(Math.abs(worst), 9);
    }
  });

  it("has an entry for every line, each with the basis that the readings give it", () => {
    expect(analysis.lines.map((line) => line.lineKey)).toEqual(wing.lines.map((line) => line.key));
    const readTabs = new Set(
      check.readings.flatMap(({ target }) => (target.kind === "tab" ? [`${target.side}:${target.id}`] : [])),
    );
    const readLines = new Set(
      check.readings.flatMap(({ target }) => (target.kind === "line" ? [`${target.side}:${target.id}`] : [])),
    );
    wing.lines.forEach((line, i) => {
      const { basis, deviationM } = analysis.lines[i] as Analysis["lines"][number];
      const above = wing.paths.filter(
        (path) => path.lineKeys.includes(line.key) && readTabs.has(path.tabKey),
      );
      const expected = readLines.has(line.key)
        ? "line"
        : above.length === 0
          ? "not measured"
          : line.carriesLines.length === 0 && line.carriesTabs.length === 1
            ? "path"
            : "paths above";
      expect(basis).toBe(expected);
      expect(deviationM === undefined).toBe(expected === "not measured");
    });
  });

  it("is the mirror image for the mirrored check: rows, ribs, lines and findings", () => {
    for (const row of analysis.rows) {
      const other = mirrored.rows.find((each) => each.row === row.row);
      expect(other?.leftM).toBeCloseTo(row.rightM as number, 9);
      expect(other?.rightM).toBeCloseTo(row.leftM as number, 9);
      expect(Math.abs(degrees((other?.incidenceRad ?? 0) - (row.incidenceRad ?? 0)))).toBeLessThan(0.01);
    }
    for (const rib of analysis.ribs) {
      const other = mirrored.ribs.find((each) => each.rib === rib.rib && each.side !== rib.side);
      // The tip, half slack, stands loosely: there a few hundredths of a degree.
      const [turn, heave] = rib.sigma > 0.95 ? [0.06, 2e-4] : [0.002, 2e-5];
      expect(Math.abs(degrees((other?.incidenceRad as number) - rib.incidenceRad))).toBeLessThan(turn);
      expect(Math.abs((other?.heaveM as number) - rib.heaveM)).toBeLessThan(heave);
      expect(Math.abs((other?.arcRad as number) + rib.arcRad)).toBeLessThan(2e-4);
    }
    for (const line of analysis.lines) {
      const other = mirrored.lines.find((each) => each.lineKey === swapped(line.lineKey));
      expect(other?.basis).toBe(line.basis);
      expect(other?.attributedM).toBeCloseTo(line.attributedM, 9);
    }
    expect(mirrored.findings.map((finding) => `${finding.severity} ${finding.kind}`)).toEqual(
      analysis.findings.map((finding) => `${finding.severity} ${finding.kind}`),
    );
    expect(
      Math.abs(degrees((mirrored.leftIncidenceRad as number) - (analysis.rightIncidenceRad as number))),
    ).toBeLessThan(0.01);
  });

  it("has every finding's lines and tabs in the wing", () => {
    const keys = new Set([...wing.lines, ...wing.tabs].map((each) => each.key));
    for (const finding of analysis.findings)
      for (const key of [...finding.lineKeys, ...finding.tabKeys]) expect(keys.has(key)).toBe(true);
  });
});

describe("the school wing after three damp seasons", () => {
  const { analysis } = SCHOOL;

  it("has what was put into it: rear rows short, right worse, brakes without travel, one lower line hitched wrongly", () => {
    const [first] = analysis.findings;
    expect(first).toMatchObject({ kind: "brake", severity: "act" });
    expect(analysis.findings.map((finding) => finding.id)).toEqual(
      expect.arrayContaining(["row D", "row C", "sides", "single left:BL2"]),
    );
    expect(
      analysis.findings.filter((finding) => finding.kind === "single").map((finding) => finding.id),
    ).toEqual(["single left:BL2"]);
    expect(analysis.findings.find((finding) => finding.kind === "sides")?.side).toBe("right");
    expect(analysis.findings.map((finding) => finding.kind)).not.toContain("order");
  });

  it("stands nose-up, more on the right, about as its rear rows say", () => {
    const mean = degrees(analysis.meanIncidenceRad as number);
    expect(mean).toBeGreaterThan(0.5);
    expect(mean).toBeLessThan(0.9);
    expect(analysis.rightIncidenceRad as number).toBeGreaterThan(analysis.leftIncidenceRad as number);
  });

  it("has row D turning the profile most, nose-up; row A hardly", () => {
    const turn = (row: string) =>
      degrees(analysis.rows.find((each) => each.row === row)?.incidenceRad as number);
    expect(turn("D")).toBeGreaterThan(turn("C"));
    expect(turn("C")).toBeGreaterThan(0.1);
    expect(Math.abs(turn("A"))).toBeLessThan(0.1);
  });

  it("has the rows' turns add up to about the whole", () => {
    const sum = analysis.rows.reduce((total, row) => total + degrees(row.incidenceRad ?? 0), 0);
    expect(Math.abs(sum - degrees(analysis.meanIncidenceRad as number))).toBeLessThan(0.1);
  });
});

describe("the light wing in its second season", () => {
  it("is in order, first of all, and told that this is no clearance", () => {
    const { analysis } = LIGHT;
    expect(analysis.findings[0]).toMatchObject({ kind: "order", severity: "fine" });
    expect(analysis.findings[0]?.detail).toContain("no clearance");
    expect(analysis.findings.every((finding) => finding.severity === "fine")).toBe(true);
    expect(Math.abs(degrees(analysis.meanIncidenceRad as number))).toBeLessThan(0.1);
  });
});

describe("an analysis", () => {
  const { wing, check, analysis } = LIGHT;
  const { model } = analysis;

  it("without a check or without readings shows the wing as specified and says nothing", () => {
    for (const empty of [
      analyse(wing, undefined, { model }),
      analyse(wing, { ...check, readings: [] }, { model }),
    ]) {
      expect(empty.measured).toBeUndefined();
      expect(empty.findings).toEqual([]);
      expect(empty.ribs).toEqual([]);
      expect(empty.meanIncidenceRad).toBeUndefined();
      expect(empty.rows.every((row) => row.measured === 0 && row.meanM === undefined)).toBe(true);
      expect(empty.lines.every((line) => line.basis === "not measured" && line.attributedM === 0)).toBe(true);
      expect(empty.model.specified.converged).toBe(true);
    }
  });

  it("tells how far it is, from nothing to all", () => {
    const told: number[] = [];
    analyse(wing, check, { model, onProgress: (_, fraction) => told.push(fraction) });
    expect(told[0]).toBe(0);
    expect(told[told.length - 1]).toBe(1);
    expect(told).toEqual([...told].sort((a, b) => a - b));
  });

  it("is plain data that may cross into another thread", () => {
    const copy = structuredClone(analysis);
    expect(copy.findings).toEqual(analysis.findings);
    expect(copy.measured?.positions).toEqual(analysis.measured?.positions);
  });
});
