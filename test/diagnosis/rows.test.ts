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
    // One path at -25 mm among eight doesn't move the robust mean of seven at -14 mm, nor that of both sides.
    expect(of("C")?.rightM).toBeCloseTo(-0.014, 12);
    expect(of("C")?.meanM).toBeCloseTo(-0.012, 12);
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

describe("a row's mean", () => {
  const tens = wingOf(samplePlan({ rows: ["A", "B"], brakes: false, tip: false }));
  const rowOf = (deviationMm: (i: number) => number | undefined, row: "A" | "B" = "A") => {
    let i = 0;
    const read = madeDeviations(tens, (path) => {
      if (path.row !== row) return undefined;
      const mm = deviationMm(i++);
      return mm === undefined ? undefined : mm / 1000;
    });
    return summariseRows(tens, read, () => undefined).find((summary) => summary.row === row);
  };
  const scatterMm = [-11, -13, -12, -10, -14, -12, -11, -13, -12, -12];

  it("moves by less than 1.5 mm for a slip of 100 mm in one reading of ten, whichever and whichever way", () => {
    const before = rowOf((i) => scatterMm[i])?.meanM as number;
    expect(before).toBeCloseTo(-0.012, 3);
    for (const slipMm of [-100, 100])
      for (let at = 0; at < 10; at++) {
        const slipped = rowOf((i) =>
          scatterMm[i] === undefined ? undefined : scatterMm[i] + (i === at ? slipMm : 0),
        );
        expect(slipped?.measured).toBe(10);
        expect(Math.abs((slipped?.meanM as number) - before)).toBeLessThan(0.0015);
        expect(Math.abs(slipped?.worstM as number)).toBeGreaterThan(0.08);
      }
  });

  it("is exactly what all its paths are off by, where they are off alike", () => {
    const row = rowOf(() => -12);
    expect([row?.meanM, row?.leftM, row?.rightM]).toEqual([-0.012, -0.012, -0.012]);
  });

  it("changes sides with a wing seen in the mirror", () => {
    const offMm = (key: string): number => {
      const [side, id = ""] = key.split(":");
      const place = Number(id.slice(1));
      return side === "left" ? -4 * place + (place % 3) : 2 * place - (place === 2 ? 90 : 0);
    };
    const mirrored = (key: string): string =>
      key.startsWith("left") ? key.replace("left", "right") : key.replace("right", "left");
    const one = madeDeviations(tens, (path) => offMm(path.tabKey) / 1000);
    const other = madeDeviations(tens, (path) => offMm(mirrored(path.tabKey)) / 1000);
    const seen = summariseRows(tens, other, () => undefined);
    summariseRows(tens, one, () => undefined).forEach((row, i) => {
      expect(seen[i]?.leftM).toBe(row.rightM);
      expect(seen[i]?.rightM).toBe(row.leftM);
      expect(seen[i]?.meanM).toBe(row.meanM);
      expect(row.leftM).not.toBe(row.rightM);
    });
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
