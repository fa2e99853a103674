import { afterEach, describe, expect, it } from "vitest";
import { cascadeDiagram } from "../../../src/plan/draft/index.ts";
import {
  deviationsOf,
  drawnRows,
  materialDashes,
  sidesAlike,
  withFigures,
} from "../../../src/view/model/cascade-drawing.ts";
import { speak } from "../../../src/words/index.ts";
import { sampleBothSides, samplePlan, wingOf } from "../../plan/factory.ts";

const wing = wingOf(samplePlan());
const NONE = deviationsOf([], [], "left");
const diagram = cascadeDiagram(wing, "A", "left");
const figureOf = (shown: typeof diagram, text: string, kind: string): string | undefined =>
  shown.labels.find((label) => label.text === text && shown.nodes[label.node]?.kind === kind)?.figure;

afterEach(() => speak());

describe("figures in a drawn cascade", () => {
  it("are the lengths of the lines, at a tab that of its upper line", () => {
    const shown = withFigures(diagram, wing, "left", "length", NONE);
    expect(figureOf(shown, "A1", "junction")).toBe("4600");
    expect(figureOf(shown, "A1", "tab")).toBe("450");
  });

  it("are the tabs’ totals, and none at the forks", () => {
    const shown = withFigures(diagram, wing, "left", "total", NONE);
    const total = wing.paths.find(({ tabKey }) => tabKey === "left:A1")?.specifiedM ?? 0;
    expect(figureOf(shown, "A1", "tab")).toBe(String(Math.round(1000 * total)));
    expect(figureOf(shown, "A1", "junction")).toBe("");
  });

  it("are the deviations of one side: of lines at the forks, of whole paths at the tabs; none where nothing was read", () => {
    const deviations = {
      ofLine: new Map<string, number | undefined>([["A1", -0.004]]),
      ofTab: new Map<string, number | undefined>([["A1", 0.007]]),
    };
    const shown = withFigures(diagram, wing, "left", "deviation", deviations);
    expect(figureOf(shown, "A1", "junction")).toBe("−4");
    expect(figureOf(shown, "A1", "tab")).toBe("+7");
    expect(figureOf(shown, "A2", "tab")).toBe("");
  });

  it("name the upper line where the tab is called otherwise", () => {
    const shown = withFigures(diagram, wing, "left", "none", NONE);
    expect(figureOf(shown, "A1", "tab")).toBe("A1.1.1");
  });

  it("find room: labels side by side don’t touch in inches either", () => {
    speak({ unit: "in" });
    const shown = withFigures(diagram, wing, "left", "length", NONE);
    const tabs = shown.labels
      .filter((label) => shown.nodes[label.node]?.kind === "tab")
      .sort((a, b) => a.x - b.x);
    for (let at = 1; at < tabs.length; at++) {
      const [left, right] = [tabs[at - 1], tabs[at]];
      if (left === undefined || right === undefined) continue;
      expect(right.x - right.width / 2).toBeGreaterThan(left.x + left.width / 2);
    }
    expect(Math.max(...shown.nodes.map(({ x }) => x))).toBeLessThan(shown.width);
  });
});

describe("a wing’s cascade", () => {
  it("has a drawing for each row with lower lines", () => {
    expect(drawnRows(wing)).toEqual(["A", "B", "C", "D", "tip", "brake"]);
  });

  it("is drawn once where the sides are alike, and a single other length makes them differ", () => {
    expect(sidesAlike(wing)).toBe(true);
    const both = sampleBothSides();
    expect(sidesAlike(wingOf(both))).toBe(true);
    const [first, ...rest] = both.sides.right.lines;
    if (first === undefined) throw new Error("no line");
    const other = {
      ...both.sides,
      right: { ...both.sides.right, lines: [{ ...first, lengthMm: first.lengthMm + 2 }, ...rest] },
    };
    expect(sidesAlike(wingOf({ ...both, sides: other }))).toBe(false);
  });

  it("tells the materials in use apart by their dashes", () => {
    const dashes = [...materialDashes(wing).values()];
    expect(dashes).toHaveLength(wing.materials.length);
    expect(new Set(dashes).size).toBe(dashes.length);
  });
});
