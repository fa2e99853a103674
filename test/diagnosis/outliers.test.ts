import { describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { findOutliers } from "../../src/diagnosis/outliers.ts";
import type { Path } from "../../src/plan/model.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";
import { seeded } from "../reference/networks.ts";
import { madeDeviations } from "./made.ts";

/** The school wing: four rows of thirteen tabs a side on three lower lines, sixteen brakes, five tip tabs. */
const wing = wingOf(DEMOS.school.plan);
const ribOf = new Map(wing.tabs.map((tab) => [tab.key, tab.rib]));
const rib = (path: Path): number => ribOf.get(path.tabKey) as number;

function normals(seed: number): () => number {
  const random = seeded(seed);
  return () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

const ROW_MEANS = { A: 0.001, B: -0.003, C: -0.012, D: -0.02, tip: -0.004, brake: -0.07 };
/** A wing that has aged row by row, each reading scattered about that. */
const agedRead = (seed: number, noiseM = 0.0015) => {
  const normal = normals(seed);
  return (path: Path): number => ROW_MEANS[path.row] + noiseM * normal();
};

describe("paths that stand apart from their row", () => {
  it("are one finding where a lower line is hitched wrongly, and its neighbours are none", () => {
    for (const [key, off] of [
      ["left:BL2", -0.01],
      ["right:CL1", -0.012],
      ["left:DL3", 0.013],
    ] as const) {
      for (let seed = 1; seed <= 5; seed++) {
        const read = agedRead(seed, 0.0005);
        const outliers = findOutliers(
          wing,
          madeDeviations(wing, (path) => read(path) + (path.lineKeys[0] === key ? off : 0)),
        );
        const lower = outliers.filter((outlier) => outlier.kind === "lower line");
        expect(lower.map((outlier) => outlier.lineKey)).toEqual([key]);
        expect(Math.abs((lower[0]?.offM as number) - off)).toBeLessThan(0.003);
        const expected = wing.paths.filter((path) => path.lineKeys[0] === key).map((path) => path.tabKey);
        expect([...(lower[0]?.tabKeys ?? [])].sort()).toEqual([...expected].sort());
        const neighbours = outliers.filter(
          (outlier) =>
            outlier.kind === "path" && outlier.side === lower[0]?.side && outlier.row === lower[0]?.row,
        );
        expect(neighbours).toEqual([]);
      }
    }
  });

  it("are found one by one: a single path 12 mm off, at the line that ends at its tab", () => {
    for (let seed = 1; seed <= 8; seed++) {
      const read = agedRead(seed);
      const outliers = findOutliers(
        wing,
        madeDeviations(wing, (path) => read(path) + (path.tabKey === "right:C5" ? -0.012 : 0)),
      );
      const found = outliers.find((outlier) => outlier.tabKeys.includes("right:C5"));
      expect(found).toMatchObject({
        kind: "path",
        side: "right",
        row: "C",
        lineKey: "right:C5",
        tabKeys: ["right:C5"],
      });
      expect(Math.abs((found?.offM as number) + 0.012)).toBeLessThan(0.005);
    }
  });

  it("aren't there in a row that shrinks steadily towards the tip", () => {
    const outliers = findOutliers(
      wing,
      madeDeviations(wing, (path) => -0.001 * rib(path)),
    );
    expect(outliers).toEqual([]);
  });

  it("aren't there on a wing whose rows are off by a lot, each row by itself, nor on one as specified", () => {
    expect(
      findOutliers(
        wing,
        madeDeviations(wing, (path) => ROW_MEANS[path.row]),
      ),
    ).toEqual([]);
    expect(
      findOutliers(
        wing,
        madeDeviations(wing, () => 0),
      ),
    ).toEqual([]);
    expect(
      findOutliers(
        wing,
        madeDeviations(wing, () => undefined),
      ),
    ).toEqual([]);
  });

  it("are ranked by how far they are off", () => {
    const outliers = findOutliers(
      wing,
      madeDeviations(wing, (path) =>
        path.tabKey === "left:A3" ? 0.009 : path.tabKey === "right:D9" ? -0.03 : 0,
      ),
    );
    expect(outliers.map((outlier) => outlier.lineKey)).toEqual(["right:D9", "left:A3"]);
  });

  it("mirror with the readings", () => {
    const read = agedRead(4);
    const values = new Map(
      wing.paths.map((path) => [path.tabKey, read(path) + (path.lineKeys[0] === "left:CL2" ? -0.015 : 0)]),
    );
    const mirrorOf = new Map(wing.tabs.map((tab) => [tab.key, tab.mirrorKey as string]));
    const here = findOutliers(
      wing,
      madeDeviations(wing, (path) => values.get(path.tabKey)),
    );
    const there = findOutliers(
      wing,
      madeDeviations(wing, (path) => values.get(mirrorOf.get(path.tabKey) as string)),
    );
    const other = (key: string) =>
      key.startsWith("left") ? key.replace("left", "right") : key.replace("right", "left");
    expect(there.map((outlier) => [outlier.kind, other(outlier.lineKey)])).toEqual(
      here.map((outlier) => [outlier.kind, outlier.lineKey]),
    );
  });

  it.each([
    ["left:BL2", -0.01],
    ["right:CL1", -0.012],
    ["left:DL3", 0.013],
  ] as const)("are told as %s alone in nine of ten checks that scatter by 1 mm", (key, off) => {
    const row = key.slice(key.indexOf(":") + 1, key.indexOf(":") + 2);
    let right = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const read = agedRead(7 * seed + 3, 0.001);
      const outliers = findOutliers(
        wing,
        madeDeviations(wing, (path) => read(path) + (path.lineKeys[0] === key ? off : 0)),
      );
      const there = outliers.filter((outlier) => outlier.row === row && key.startsWith(outlier.side));
      if (there.length === 1 && there[0]?.lineKey === key) right++;
    }
    expect(right).toBeGreaterThanOrEqual(54);
  });

  it("are never called out by mistake in 200 checks that scatter by 1 mm", () => {
    for (let seed = 1; seed <= 200; seed++)
      expect(findOutliers(wing, madeDeviations(wing, agedRead(1000 + seed, 0.001)))).toEqual([]);
  });

  // 6 mm is four standard deviations here: some of 146 paths a check get that far by chance.
  it.each([
    ["the school wing", wing],
    ["the light wing", wingOf(DEMOS.second.plan)],
    ["a wing with two lower lines a row", wingOf(samplePlan())],
  ])("are called out by mistake in less than one of ten checks that scatter by 1.5 mm: %s", (_, of) => {
    let checks = 0;
    for (let seed = 1; seed <= 200; seed++)
      if (findOutliers(of, madeDeviations(of, agedRead(1000 + seed))).length > 0) checks++;
    expect(checks).toBeLessThan(20);
  });
});
