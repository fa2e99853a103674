import { describe, expect, it } from "vitest";
import { bandOf } from "../../../src/diagnosis/assumption-band.ts";
import type { AngleBand, IncidenceBands } from "../../../src/diagnosis/bands.ts";
import type { Equilibrium, RibChange, WingModel } from "../../../src/geometry/model.ts";
import { bandRows, meanRows, ribRows } from "../../../src/view/model/bandTable.ts";
import { balanceRow, fitRows } from "../../../src/view/model/fitTable.ts";
import { flowed, keyEntries } from "../../../src/view/model/incidenceKey.ts";
import { cutBands, incidenceDomain, incidenceSeries } from "../../../src/view/model/incidenceSeries.ts";
import { halfWidthOf, nearestRib, ribFigures, withBand } from "../../../src/view/model/ribFigures.ts";
import {
  riggingDifferences,
  riggingEffect,
  travelShort,
  travelText,
} from "../../../src/view/model/riggingText.ts";
import { AS_SPECIFIED } from "../../../src/view/state/rigging.ts";
import { checkOf, sampleWing, standIn } from "../stand-in.ts";

const wing = {
  ...sampleWing(),
  settings: [{ id: "trim", name: "Trimmers open", kind: "trimmer", strapChangesM: {} } as const],
};
const rad = (degrees: number): number => (degrees * Math.PI) / 180;
const change = (part: Partial<RibChange>): RibChange => ({
  side: "left",
  rib: 3,
  sigma: 0.2,
  yM: -1,
  incidenceRad: rad(0.68),
  camber: 0.0012,
  heaveM: -0.0078,
  arcRad: 0,
  residualM: 0.0004,
  ...part,
});
const band = bandOf(
  [
    { side: "left", rib: 9 },
    { side: "left", rib: 3 },
    { side: "right", rib: 3 },
  ],
  [
    {
      name: "fabric stiffness",
      ends: ["÷ 3", "× 3"],
      halfWidthRad: [rad(0.3), rad(0.03), rad(0.02)],
      meanRad: rad(0.01),
      leftRad: 0,
      rightRad: 0,
    },
    {
      name: "reading",
      ends: undefined,
      halfWidthRad: [rad(0.4), rad(0.04), 0],
      meanRad: rad(0.02),
      leftRad: 0,
      rightRad: 0,
    },
  ],
);

/** Measured 0.68°, most likely 0.6°. */
const angle = (half: number): AngleBand => {
  const around = (width: number) => ({ low: rad(0.6 - width), high: rad(0.6 + width) });
  return {
    measuredRad: rad(0.68),
    likelyRad: rad(0.6),
    readingRad: rad(0.025),
    drawn68: around(0.025),
    drawn95: around(0.05),
    normal68: around(0.025),
    normal95: around(0.05),
    assumptionsRad: rad(0.08),
    combined68: around(half / 2),
    combined95: around(half),
  };
};
const judged: IncidenceBands = {
  ribs: [{ side: "left", rib: 3, yM: -1, ...angle(0.1) }],
  mean: angle(0.1),
  left: angle(0.2),
  right: undefined,
  leftLessRight: undefined,
  draws: 100,
  largestDisagreement: 0,
};
const means = { meanIncidenceRad: rad(0.68), leftIncidenceRad: rad(0.68), rightIncidenceRad: rad(0.5) };

describe("a rigging in words", () => {
  it("says what differs from the reference setting, and nothing at trim", () => {
    expect(riggingDifferences(wing, AS_SPECIFIED)).toEqual([]);
    expect(
      riggingDifferences(wing, { percent: { trim: 40 }, weightKg: 101, brakeMm: { left: 30, right: 30 } }),
    ).toEqual([
      "Trimmers open 40 %",
      expect.stringMatching(/^101 kg instead of /),
      "both brakes pulled 30 mm",
    ]);
    expect(riggingDifferences(wing, { ...AS_SPECIFIED, brakeMm: { left: 0, right: 20 } })).toEqual([
      "right brake pulled 20 mm",
    ]);
  });

  it("says which way it turns the wing", () => {
    expect(riggingEffect(rad(-1.74))).toBe("−1.74°, nose down");
    expect(riggingEffect(rad(0.01))).toMatch(/unchanged/);
  });

  it("says what is left of the brakes' travel, and by how much the edge is pulled where none is", () => {
    expect(travelText({ left: 0.028, right: 0.0194 })).toBe("left 28 mm, right 19 mm");
    expect(travelText({ left: -0.0061, right: 0.0002 })).toBe("left none, edge pulled 6 mm; right none");
    expect(travelText({})).toBeUndefined();
    expect(travelShort({ left: 0.06, right: 0.04 }, 0.05)).toBe(true);
    expect(travelShort({ left: 0.06, right: 0.05 }, 0.05)).toBe(false);
  });
});

describe("a rib's figures", () => {
  it("give the incidence with its band, camber, heave and what the fit leaves", () => {
    expect(ribFigures(change({}), band, undefined)).toEqual({
      incidence: "+0.68° ± 0.05°",
      between: undefined,
      camber: "+0.12",
      heave: "−7.8",
      residual: "0.4",
    });
  });

  it("claim no camber from two tabs and no residual from an exact fit, nor a band that isn't there", () => {
    const figures = ribFigures(change({ camber: undefined, residualM: undefined }), undefined, undefined);
    expect(figures).toMatchObject({ incidence: "+0.68°", camber: "–", residual: "exact" });
    expect(halfWidthOf(band, "right", 9)).toBeUndefined();
    expect(withBand(undefined, 0.1)).toBe("–");
  });

  it("belong to the nearest rib there is, the innermost where none is asked for", () => {
    expect(nearestRib([1, 4, 9], 5)).toBe(4);
    expect(nearestRib([1, 4, 9], undefined)).toBe(1);
    expect(nearestRib([], 3)).toBeUndefined();
  });
});

describe("the band in the chart and the table", () => {
  const analysis = {
    ...standIn(
      wing,
      checkOf(wing, () => -3),
    ),
    ribs: [change({}), change({ rib: 9, sigma: 0.9, incidenceRad: rad(-0.2) })],
  };

  it("goes with its own rib, whatever the order", () => {
    const [tip, inner] = incidenceSeries(analysis, band);
    expect(tip?.assumptions).toBeCloseTo(0.5, 9);
    expect(inner?.assumptions).toBeCloseTo(0.05, 9);
    expect(incidenceSeries(analysis)[0]?.assumptions).toBeUndefined();
  });

  it("is held by the axis", () => {
    expect(incidenceDomain(incidenceSeries(analysis, band))[0]).toBeLessThanOrEqual(-0.7);
  });

  it("is that of the readings judged as soon as they are, around the most likely lengths and not the figure read", () => {
    const [tip, inner] = incidenceSeries(analysis, band, judged);
    expect(inner?.together?.low).toBeCloseTo(0.5, 9);
    expect(inner?.together?.high).toBeCloseTo(0.7, 9);
    expect(inner?.readings?.low).toBeCloseTo(0.55, 9);
    // The judgement's assumptions go before those that came early, so that one figure never stands beside another.
    expect(inner?.assumptions).toBeCloseTo(0.08, 9);
    expect(tip?.together).toBeUndefined();
    expect(ribFigures(change({}), band, judged)).toMatchObject({
      incidence: "+0.68°",
      between: "+0.50° to +0.70°",
    });
    expect(ribRows(incidenceSeries(analysis, band, judged))[0]).toMatchObject({
      rib: 3,
      cells: {
        left: { angle: "+0.68°", between: "+0.50° to +0.70°", readings: "+0.55° to +0.65°" },
        right: undefined,
      },
    });
  });

  it("goes along with what is tried", () => {
    const tried = { ribs: [change({ incidenceRad: rad(1.68) })] };
    const [point] = incidenceSeries(tried, band, judged);
    expect(point?.together?.low).toBeCloseTo(1.5, 9);
    expect(meanRows({ ...means, meanIncidenceRad: rad(1.68) }, band, judged)[0]).toMatchObject({
      angle: "+1.68°",
      between: "+1.50° to +1.70°",
    });
  });

  it("has the sides' means with intervals of their own, and before the judgement what assumptions leave", () => {
    expect(meanRows(means, band, judged).map(({ name, between }) => [name, between])).toEqual([
      ["All ribs", "+0.50° to +0.70°"],
      ["Left", "+0.40° to +0.80°"],
      ["Right", undefined],
    ]);
    expect(meanRows(means, band, undefined)[0]).toMatchObject({ between: undefined, assumptions: "± 0.02°" });
  });

  it("is cut off, and said to be, where one rib's would squeeze all others", () => {
    const narrow = (rib: number) => ({
      side: "left" as const,
      rib,
      x: -rib / 10,
      degrees: 0.6,
      together: { low: 0.55, high: 0.65 },
    });
    const wide = { ...narrow(9), together: { low: -8, high: 9 } };
    const all = [1, 2, 3, 4].map(narrow);
    expect(incidenceDomain(all)).toEqual([-0.5, 1]);
    const domain = incidenceDomain([...all, wide]);
    expect(domain[1] - domain[0]).toBeLessThan(3);
    expect(cutBands([...all, wide], domain)).toEqual([{ point: wide, below: true, above: true }]);
    expect(cutBands(all, incidenceDomain(all))).toEqual([]);
    // Where all are wide that is the scale: nothing is hidden.
    const allWide = [1, 2, 3].map((rib) => ({ ...wide, rib }));
    expect(cutBands(allWide, incidenceDomain(allWide))).toEqual([]);
    expect(keyEntries([...all, wide], 1).map(({ text }) => text)).toEqual([
      "95 %, readings and assumptions",
      "readings alone",
      "1 band goes on beyond the edge",
    ]);
  });

  it("is named in words that go on below where the line is full", () => {
    const entries = keyEntries(incidenceSeries(analysis, band, judged), 0);
    expect(flowed(entries, 400, 900).below).toBe(0);
    const { places, below } = flowed(entries, 320, 320);
    expect(below).toBe(2);
    expect(places.map(({ x }) => x)).toEqual([0, 0]);
    expect(keyEntries(incidenceSeries(analysis, band), 0)).toEqual([
      { sort: "assumptions", text: "what assumptions leave open" },
    ]);
    expect(keyEntries(incidenceSeries(analysis), 0)).toEqual([]);
  });

  it("says of every cause what it does in the middle and at the tips, and of all together", () => {
    const rows = bandRows(band, (_, rib) => rib / 10);
    expect(rows.map(({ name, middle, tip }) => [name, middle, tip])).toEqual([
      ["Fabric stiffness", "± 0.03°", "± 0.30°"],
      ["Reading", "± 0.04°", "± 0.40°"],
      ["All together", "± 0.05°", "± 0.50°"],
    ]);
    expect(rows[0]?.explanation).toContain("÷ 3 to × 3");
  });
});

describe("how the canopy was found", () => {
  it("tells what the plan gives from what was found and what is assumed, with the spread", () => {
    const parameters = [
      { name: "flat span", value: 11.96, unit: "m", origin: "plan", deviation: 0, priorDeviation: 0 },
      {
        name: "tip twist",
        value: rad(0.9),
        unit: "rad",
        origin: "fitted",
        deviation: rad(0.052),
        priorDeviation: rad(1.4),
      },
      { name: "arc exponent", value: 1.2, unit: "", origin: "assumed", deviation: 0.2, priorDeviation: 0.25 },
    ];
    const rows = fitRows({ fit: { parameters } } as unknown as WingModel);
    expect(rows.map(({ value, origin, spread }) => [value, origin, spread])).toEqual([
      ["11.960 m", "from the plan", ""],
      ["0.90°", "found from the lengths", "± 0.052°"],
      ["1.200", "assumed, typical", "± 0.20"],
    ]);
  });

  it("names the slack lines, and says where a state isn't in balance", () => {
    const model = { memberLine: ["left:A1", undefined, "right:A1"] } as unknown as WingModel;
    const state = {
      converged: false,
      iterations: 1,
      residualN: 0.02,
      energyJ: 12.34,
      slack: [0, 2],
    } as unknown as Equilibrium;
    const { text } = balanceRow("As tried", model, state);
    expect(text).toContain("not in balance after 1 step,");
    expect(text).toContain("2 lines slack (A1 left, A1 right)");
  });
});
