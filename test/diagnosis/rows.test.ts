import { describe, expect, it } from "vitest";
import { mean, measuredValues, median, summariseRows } from "../../src/diagnosis/rows.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";
import { madeDeviations } from "./made.ts";

const wing = wingOf(samplePlan());

describe("a row summed up", () => {
  const deviations = madeDeviations(wing, (path) =>
    path.row === "D"
      ? undefined
      : path.tabKey === "right:C3"
        ? -0.025
        : path.row === "C"
          ? path.side === "left"
            ? -0.01
            : -0.014
          : 0.001,
  );
  const rows = summariseRows(wing, deviations, (row) => (row === "C" ? 0.004 : 0));
  const of = (row: string) => rows.find((summary) => summary.row === row);

  it("stands in the rows' order, front to rear, tip and brake last", () => {
    expect(rows.map((summary) => summary.row)).toEqual(["A", "B", "C", "D", "tip", "brake"]);
  });

  it("has its means by side and over both, and its worst path", () => {
    expect(of("C")?.leftM).toBeCloseTo(-0.01, 12);
    expect(of("C")?.rightM).toBeCloseTo((-0.014 * 7 - 0.025) / 8, 12);
    expect(of("C")?.meanM).toBeCloseTo(((-0.014 * 7 - 0.025) / 8 - 0.01) / 2, 12);
    expect(of("C")?.worstM).toBeCloseTo(-0.025, 12);
    expect(of("C")?.worstTabKey).toBe("right:C3");
  });

  it("counts the paths beyond the user's limit, a path on the limit not among them", () => {
    expect(of("C")?.outOfTolerance).toBe(8);
    expect(of("A")?.outOfTolerance).toBe(0);
    expect(of("C")).toMatchObject({ measured: 16, total: 16 });
  });

  it("says nothing of a row that wasn't read, its turn of the profile included", () => {
    expect(of("D")).toMatchObject({
      measured: 0,
      total: 16,
      meanM: undefined,
      leftM: undefined,
      worstTabKey: undefined,
      incidenceRad: undefined,
    });
    expect(of("C")?.incidenceRad).toBe(0.004);
  });

  it("leaves rows out that the wing hasn't got", () => {
    const small = wingOf(samplePlan({ rows: ["A", "B"], brakes: false, tip: false }));
    expect(
      summariseRows(
        small,
        madeDeviations(small, () => 0),
        () => 0,
      ).map((summary) => summary.row),
    ).toEqual(["A", "B"]);
  });
});

describe("mean and median", () => {
  it("are the usual ones, and nothing for nothing", () => {
    expect(mean([1, 2, 6])).toBe(3);
    expect(median([9, 1, 5])).toBe(5);
    expect(median([9, 1, 5, 2])).toBe(3.5);
    expect(mean([])).toBeUndefined();
    expect(median([])).toBeUndefined();
    const values = [3, 1, 2];
    median(values);
    expect(values).toEqual([3, 1, 2]);
  });

  it("take only paths that were read", () => {
    expect(measuredValues(madeDeviations(wing, (_, i) => (i === 4 ? 0.002 : undefined)).paths)).toEqual([
      0.002,
    ]);
  });
});
