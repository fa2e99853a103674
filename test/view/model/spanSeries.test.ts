import { describe, expect, it } from "vitest";
import { incidenceDomain } from "../../../src/view/model/incidenceSeries.ts";
import {
  brakesApart,
  deviationDomain,
  measuredRuns,
  type SpanSeries,
  spanSeries,
  spreadLabels,
} from "../../../src/view/model/spanSeries.ts";
import { checkOf, sampleWing, standIn } from "../stand-in.ts";

const wing = sampleWing();

function seriesWith(offMm: (tabKey: string) => number | undefined): readonly SpanSeries[] {
  return spanSeries(standIn(wing, checkOf(wing, offMm)));
}
const rowOf = (series: readonly SpanSeries[], row: string) => series.find((each) => each.row === row);

describe("deviations along the span", () => {
  it("run from the left tip to the right tip, a point a tab, front row first", () => {
    const series = seriesWith(() => -3);
    expect(series.map(({ row }) => row)).toEqual(["A", "B", "C", "D", "tip", "brake"]);
    for (const { row, points } of series) {
      expect(points).toHaveLength(wing.tabs.filter((tab) => tab.row === row).length);
      expect(points.map(({ x }) => x)).toEqual(points.map(({ x }) => x).sort((a, b) => a - b));
      expect(points[0]?.side).toBe("left");
    }
  });

  it("are mirror images for readings that are", () => {
    const points =
      rowOf(
        seriesWith((key) => -Number(/\d+/.exec(key)?.[0])),
        "A",
      )?.points ?? [];
    const mirrored = [...points].reverse();
    points.forEach((point, index) => {
      expect(point.x).toBeCloseTo(-(mirrored[index]?.x ?? Number.NaN), 12);
      expect(point.deviationM).toBeCloseTo(mirrored[index]?.deviationM ?? Number.NaN, 12);
    });
  });

  it("leave a gap where a tab wasn't measured", () => {
    const whole = rowOf(
      seriesWith(() => 1),
      "C",
    );
    const gap = rowOf(
      seriesWith((key) => (key === "left:C3" ? undefined : 1)),
      "C",
    );
    if (whole === undefined || gap === undefined) throw new Error("no row C");
    expect(measuredRuns(gap)).toHaveLength(measuredRuns(whole).length + 1);
    expect(measuredRuns(gap).flat()).toHaveLength(whole.points.length - 1);
  });

  it("aren't joined over the middle of the span where a row has tabs at the tips only", () => {
    const point = (x: number) => ({
      tabKey: `${x}`,
      tabId: "",
      lineKey: "",
      side: "left" as const,
      rib: 1,
      x,
      deviationM: 0,
    });
    const tips: SpanSeries = { row: "tip", points: [-1, -0.9, -0.8, 0.8, 0.9, 1].map(point) };
    expect(measuredRuns(tips).map((run) => run.map(({ x }) => x))).toEqual([
      [-1, -0.9, -0.8],
      [0.8, 0.9, 1],
    ]);
  });

  it("put brakes on a scale of their own only where they would crush the rows", () => {
    expect(
      brakesApart(
        seriesWith((key) => (wing.tabs.find((tab) => tab.key === key)?.row === "brake" ? -80 : -5)),
        0.01,
      ),
    ).toBe(true);
    expect(
      brakesApart(
        seriesWith(() => -12),
        0.01,
      ),
    ).toBe(false);
  });

  it("fit an axis that shows the tolerance on both sides and every point", () => {
    expect(
      deviationDomain(
        seriesWith(() => -22),
        0.01,
      ).map((m) => Math.round(m * 1000)),
    ).toEqual([-25, 15]);
    expect(
      deviationDomain(
        seriesWith(() => undefined),
        0.01,
      ).map((m) => Math.round(m * 1000)),
    ).toEqual([-15, 15]);
  });

  it("fit an incidence axis to half degrees", () => {
    const at = (degrees: number) => ({ side: "left" as const, rib: 1, x: 0, degrees });
    expect(incidenceDomain([at(0.9), at(0.2)])).toEqual([-0.5, 1]);
    expect(incidenceDomain([at(-1.2)])).toEqual([-1.5, 0.5]);
    expect(incidenceDomain([])).toEqual([-0.5, 0.5]);
  });
});

describe("labels at the ends of the lines", () => {
  it("stay where they are when they don't touch", () => {
    expect(spreadLabels([10, 60, 30], 15, 0, 100)).toEqual([10, 60, 30]);
  });

  it("move apart in order and stay inside", () => {
    const placed = spreadLabels([50, 51, 52, 98], 15, 0, 100);
    const sorted = [...placed];
    expect(sorted).toEqual([...placed].sort((a, b) => a - b));
    for (let i = 1; i < placed.length; i += 1)
      expect((placed[i] ?? 0) - (placed[i - 1] ?? 0)).toBeGreaterThanOrEqual(15 - 1e-9);
    expect(Math.max(...placed)).toBeLessThanOrEqual(100);
  });
});
