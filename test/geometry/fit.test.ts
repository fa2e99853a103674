import { describe, expect, it } from "vitest";
import { type FittedCanopy, fitCanopy } from "../../src/geometry/fit.ts";
import { cascadeOf } from "../../src/geometry/lay-out.ts";
import { outlineFigures } from "../../src/geometry/outline.ts";
import { attachedStations, tributaryWidth } from "../../src/geometry/stations.ts";
import {
  type InventedOptions,
  type InventedShape,
  inventedWing,
  MEDIUM_SHAPE,
  outlineOf,
} from "./invented-wing.ts";

function fitted(options: InventedOptions): {
  found: FittedCanopy;
  value: (name: string) => number;
  origin: (name: string) => string;
} {
  const wing = inventedWing(options);
  const found = fitCanopy(wing, cascadeOf(wing), attachedStations(wing));
  const parameter = (name: string) => {
    const each = found.report.parameters.find((p) => p.name === name);
    if (!each) throw new Error(`no parameter ${name}`);
    return each;
  };
  return { found, value: (name) => parameter(name).value, origin: (name) => parameter(name).origin };
}

/** Away from the priors' middle in every direction. */
const FLAT_WING: InventedShape = {
  ...MEDIUM_SHAPE,
  flatSpanM: 10.8,
  projectedSpanM: 9,
  rootChordM: 2.5,
  tipChordM: 0.55,
  arcExponent: 1.3,
  sweepFraction: 0.3,
  carabinerBehindLeadingEdge: 0.37,
  heightM: 6.6,
};
const CURVED_WING: InventedShape = {
  ...MEDIUM_SHAPE,
  flatSpanM: 12.4,
  projectedSpanM: 9.3,
  rootChordM: 2.9,
  tipChordM: 0.8,
  arcExponent: 0.95,
  sweepFraction: 0.45,
  carabinerBehindLeadingEdge: 0.44,
  heightM: 7.6,
};

const WINGS: [string, InventedOptions & { shape: InventedShape }][] = [
  ["a medium wing of four rows", { shape: MEDIUM_SHAPE }],
  ["a flat wing of three rows", { shape: FLAT_WING, rows: ["A", "B", "C"] }],
  ["a curved wing of four rows without a tip line", { shape: CURVED_WING, tip: false, cells: 34 }],
  [
    "a medium wing of three rows, three lower lines each",
    { shape: MEDIUM_SHAPE, rows: ["A", "B", "C"], lowersPerRow: 3, tip: false },
  ],
];

describe("the fitted canopy of a wing whose canopy is known", () => {
  it.each(WINGS)("finds what the plan doesn't say: %s", (_, options) => {
    const { shape } = options;
    const { found, value } = fitted(options);
    expect(found.report.rmsMisfitM).toBeLessThan(0.001);
    expect(Math.abs(value("height over carabiners") - shape.heightM)).toBeLessThan(0.005);
    expect(Math.abs(value("carabiner behind leading edge") - shape.carabinerBehindLeadingEdge)).toBeLessThan(
      0.01,
    );
    expect(Math.abs(value("arc exponent") - shape.arcExponent)).toBeLessThan(0.02);
    // Sweep and twist are told apart only by the tips: half the sweep's prior spread is what the paths can promise.
    expect(Math.abs(value("leading edge sweep") - shape.sweepFraction)).toBeLessThan(0.06);
    expect(Math.abs(value("tip twist") - shape.twistTipRad)).toBeLessThan(0.01);
  });

  it.each(WINGS)("keeps what the plan says: %s", (_, options) => {
    const { shape } = options;
    const { found, origin } = fitted(options);
    const figures = outlineFigures(found.outline);
    expect(figures.flatSpanM).toBeCloseTo(shape.flatSpanM, 9);
    expect(figures.projectedSpanM).toBeCloseTo(shape.projectedSpanM, 9);
    expect(found.outline.rootChordM).toBeCloseTo(shape.rootChordM, 9);
    expect(found.outline.tipChordM).toBeCloseTo(shape.tipChordM, 9);
    for (const name of ["flat span", "projected over flat span", "root chord", "tip chord over root chord"])
      expect(origin(name)).toBe("plan");
    expect(origin("height over carabiners")).toBe("fitted");
    expect(origin("arc exponent")).toBe("fitted");
  });

  it.each(["area", "nothing"] as const)(
    "finds the span from the paths alone where the plan tells %s",
    (told) => {
      const { found, value, origin } = fitted({ told });
      expect(found.report.rmsMisfitM).toBeLessThan(0.001);
      expect(value("flat span") / MEDIUM_SHAPE.flatSpanM).toBeCloseTo(1, 2);
      expect(value("projected over flat span")).toBeCloseTo(9.1 / 11.6, 2);
      expect(found.outline.rootChordM / MEDIUM_SHAPE.rootChordM).toBeCloseTo(1, 1);
      expect(origin("flat span")).toBe("fitted");
      if (told === "area")
        expect(outlineFigures(found.outline).flatAreaM2).toBeCloseTo(
          outlineFigures(outlineOf(MEDIUM_SHAPE)).flatAreaM2,
          6,
        );
    },
  );

  it("reports a path that the plan has wrong by 30 mm as that tab's misfit, and spreads little of it", () => {
    const wing = inventedWing();
    const key = "left:B1.1.2";
    const wrong = {
      ...wing,
      lines: wing.lines.map((line) => (line.key === key ? { ...line, lengthM: line.lengthM - 0.03 } : line)),
    };
    const { report } = fitCanopy(wrong, cascadeOf(wrong), attachedStations(wrong));
    const tab = wrong.tabs.findIndex((each) => each.lineKey === key);
    expect(report.misfitM[tab] as number).toBeGreaterThan(0.025);
    const others = [...report.misfitM].filter((_, i) => i !== tab).map(Math.abs);
    expect(Math.max(...others)).toBeLessThan(0.004);
  });

  it("leaves the brakes out of the fit", () => {
    const wing = inventedWing();
    const short = {
      ...wing,
      lines: wing.lines.map((line) =>
        line.row === "brake" ? { ...line, lengthM: line.lengthM * 0.97 } : line,
      ),
    };
    const before = fitCanopy(wing, cascadeOf(wing), attachedStations(wing));
    const after = fitCanopy(short, cascadeOf(short), attachedStations(short));
    expect(after.outline).toEqual(before.outline);
    expect(after.report.rmsMisfitM).toBe(before.report.rmsMisfitM);
  });
});

describe("the width that a rib carries", () => {
  it("adds up to the whole span over the ribs that carry load", () => {
    const stations = attachedStations(inventedWing());
    const total = stations.reduce((sum, _, s) => sum + tributaryWidth(stations, s), 0);
    expect(total).toBeCloseTo(2, 12);
  });

  it("is nothing for a rib with a brake tab alone", () => {
    const stations = attachedStations(inventedWing());
    const braked = stations.findIndex((station) => station.tabs.every((tab) => tab.row === "brake"));
    expect(braked).toBeGreaterThanOrEqual(0);
    expect(tributaryWidth(stations, braked)).toBe(0);
  });
});
