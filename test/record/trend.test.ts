import { afterEach, describe, expect, it } from "vitest";
import { seededRandom } from "../../src/demo/random.ts";
import {
  dayNumber,
  type Forecast,
  forecastCaution,
  forecastOf,
  limitsOf,
  type RowPoint,
  sayForecast,
  type Trend,
  trendOf,
} from "../../src/record/index.ts";
import { catalogueOf, LANGUAGES, localeOf, speak } from "../../src/words/index.ts";
import { testWing } from "../readings/wing.ts";

const LIMITS = { lowerM: -0.01, upperM: 0.01 };
afterEach(() => speak());

function points(
  values: readonly (readonly [day: number, mm: number])[],
  uncertaintyMm = 0.5,
  stretchOf: (at: number) => number = () => 0,
): { readonly points: readonly RowPoint[]; readonly changedSince: boolean } {
  return {
    changedSince: false,
    points: values.map(([day, mm], at) => ({
      checkId: `c${at}`,
      date: "2026-01-01",
      day,
      hours: day / 5,
      meanM: mm / 1000,
      standardUncertaintyM: uncertaintyMm / 1000,
      paths: 8,
      stretch: stretchOf(at),
    })),
  };
}

/** Where an edge of the band reaches the limit, by stepping along it. */
function steppedCrossing(trend: Trend, limitM: number, from: number, sign: number): number | undefined {
  if (trend.kind !== "slope") return undefined;
  const level = trend.fit.levels.at(-1);
  if (level === undefined) return undefined;
  const spread = (x: number) =>
    trend.coverage *
    trend.inflation *
    Math.hypot(level.uncertainty, (x - level.x) * trend.fit.slopeUncertainty);
  for (let x = from; x < from + 1826; x += 0.25)
    if (level.y + trend.fit.slope * (x - level.x) + sign * spread(x) <= limitM) return x;
  return undefined;
}

describe("when a row’s mean will leave its tolerance", () => {
  it("is where the band of its trend crosses the limit, as stepping along it finds", () => {
    const trend = trendOf(
      points([
        [0, 0],
        [365, -2.2],
        [730, -3.9],
        [1095, -6.1],
      ]),
      "date",
    );
    const forecast = forecastOf(trend, LIMITS, 1095);
    if (forecast.kind !== "in sight") throw new Error(forecast.kind);
    expect(forecast.limitM).toBe(-0.01);
    expect(forecast.earliest).toBeCloseTo(steppedCrossing(trend, -0.01, 1095, -1) as number, -0.5);
    expect(forecast.latest).toBeCloseTo(steppedCrossing(trend, -0.01, 1095, 1) as number, -0.5);
    expect(forecast.likely).toBeGreaterThan(forecast.earliest);
    expect(forecast.likely).toBeLessThan(forecast.latest as number);
  });

  it("is mirrored where it grows", () => {
    const values = [
      [0, 0],
      [365, -2.2],
      [730, -3.9],
      [1095, -6.1],
    ] as const;
    const down = forecastOf(trendOf(points(values), "date"), LIMITS, 1095);
    const up = forecastOf(
      trendOf(points(values.map(([day, mm]) => [day, -mm] as const)), "date"),
      LIMITS,
      1095,
    );
    expect(up).toEqual({ ...down, limitM: 0.01 });
  });

  it("isn’t in sight for a row that stays where it is and is well known", () => {
    const trend = trendOf(
      points(
        [
          [0, 1],
          [365, 1],
          [730, 1],
          [1095, 1],
        ],
        0.1,
      ),
      "date",
    );
    expect(forecastOf(trend, LIMITS, 1095).kind).toBe("not in sight");
  });

  it("has no latest day where the slope may be none", () => {
    const forecast = forecastOf(
      trendOf(
        points(
          [
            [0, -4],
            [200, -5],
            [400, -5.5],
          ],
          1,
        ),
        "date",
      ),
      LIMITS,
      400,
    );
    expect(forecast.kind === "in sight" && forecast.latest).toBe(undefined);
  });

  it("is past where the mean is beyond already, and from now on where the band is", () => {
    const beyond = forecastOf(
      trendOf(
        points([
          [0, -8],
          [200, -10],
          [400, -12],
        ]),
        "date",
      ),
      LIMITS,
      400,
    );
    expect(beyond).toEqual({ kind: "beyond", limitM: -0.01 });
    const near = forecastOf(
      trendOf(
        points([
          [0, -8],
          [200, -8.9],
          [400, -9.9],
        ]),
        "date",
      ),
      LIMITS,
      400,
    );
    expect(near.kind === "in sight" && near.earliest).toBe(400);
  });

  it("isn’t told from two checks, nor from checks with work between them", () => {
    expect(
      forecastOf(
        trendOf(
          points([
            [0, 0],
            [365, -5],
          ]),
          "date",
        ),
        LIMITS,
        365,
      ).kind,
    ).toBe("no trend");
    const cut = trendOf(
      points(
        [
          [0, 0],
          [365, -5],
          [730, 0],
        ],
        0.5,
        (at) => at,
      ),
      "date",
    );
    expect(forecastOf(cut, LIMITS, 730).kind).toBe("no trend");
  });

  it("isn’t told where work was done after the last check", () => {
    const trend = trendOf(
      {
        ...points([
          [0, 0],
          [365, -2.2],
          [730, -3.9],
        ]),
        changedSince: true,
      },
      "date",
    );
    expect(forecastOf(trend, LIMITS, 730)).toEqual({ kind: "changed since" });
  });

  it("reckons from the level after the last work", () => {
    const values = [
      [0, 0],
      [365, -4],
      [730, -8],
      [740, 2],
      [1105, -2],
    ] as const;
    const trend = trendOf(
      points(values, 0.2, (at) => (at < 3 ? 0 : 1)),
      "date",
    );
    const forecast = forecastOf(trend, LIMITS, 1105);
    // 8 mm are left, at 4 mm a year.
    expect(forecast.kind === "in sight" && forecast.likely).toBeCloseTo(1105 + 2 * 365, 0);
  });

  it("is vaguer where checks scatter more than their readings explain", () => {
    const trend = trendOf(
      points(
        [
          [0, 0],
          [200, -5],
          [400, 0],
          [600, -8],
          [800, -3],
        ],
        0.3,
      ),
      "date",
    );
    expect(trend.kind === "slope" && trend.inflation).toBeGreaterThan(1);
    expect(trend.kind === "slope" && trend.coverage).toBeGreaterThan(1.96);
  });

  /** Share of made-up wings, shrinking evenly by 6 mm in 1000 days, of which the interval holds the true day. */
  function shareHeld(days: readonly number[], noiseMm: number): number {
    const random = seededRandom(7);
    const wings = 2000;
    let held = 0;
    for (let wing = 0; wing < wings; wing++) {
      const values = days.map((day) => [day, -0.006 * day + noiseMm * random.normal()] as const);
      const forecast = forecastOf(trendOf(points(values, 0.5), "date"), LIMITS, days.at(-1) as number, 1e6);
      if (forecast.kind !== "in sight") continue;
      const truth = 10 / 0.006;
      if (forecast.earliest <= truth && (forecast.latest === undefined || truth <= forecast.latest))
        held += 1;
    }
    return held / wings;
  }

  it("comes true in at least 95 of 100 made-up wings whose readings are as good as they say", () => {
    for (const days of [
      [0, 500, 1000],
      [0, 300, 500, 900, 1100],
    ]) {
      expect(shareHeld(days, 0.5)).toBeGreaterThan(0.95);
      expect(shareHeld(days, 0.5)).toBeLessThan(0.985);
    }
  });

  it("comes true nearly as often where they scatter twice as much, once there are five checks to tell", () => {
    expect(shareHeld([0, 300, 500, 900, 1100], 1)).toBeGreaterThan(0.92);
    expect(shareHeld([0, 500, 1000], 1)).toBeGreaterThan(0.84);
  });
});

describe("limits of a row’s mean", () => {
  const wing = testWing();
  const brake = { row: "brake", against: undefined } as const;

  it("between two rows are the tolerance between rows", () => {
    const near = { ...wing, tolerances: { ...wing.tolerances, rowToRowM: 0.007 } };
    expect(limitsOf(near, { row: "A", against: "B" })).toEqual({ lowerM: -0.007, upperM: 0.007 });
  });

  it("are the tolerance of a path; for brakes also the free travel that there must be", () => {
    expect(limitsOf(wing, { row: "A", against: undefined })).toEqual({ lowerM: -0.01, upperM: 0.01 });
    const few = { ...wing, tolerances: { ...wing.tolerances, minBrakeFreeTravelM: 0.055 } };
    expect(limitsOf(few, brake).lowerM).toBeCloseTo(-0.005, 12);
    const none = { ...wing, tolerances: { ...wing.tolerances, minBrakeFreeTravelM: 0.08 } };
    expect(limitsOf(none, brake).lowerM).toBeCloseTo(0, 12);
  });
});

describe("a forecast in words", () => {
  const from = dayNumber("2026-03-14");
  const line = [
    [from - 1095, 0],
    [from - 730, -2.2],
    [from - 365, -3.9],
    [from, -6.1],
  ] as const;
  const trend = trendOf(points(line), "date");
  const said = (forecast: Forecast, of: Trend = trend, axis: "date" | "hours" = "date", at = from) =>
    sayForecast({ row: "C", side: "left", against: undefined }, of, forecast, axis, at);

  it("gives the limit, the interval and the likeliest day, and says that it is no clearance", () => {
    expect(said(forecastOf(trend, LIMITS, from))).toMatch(
      /^Row C, left: the limit of −10 mm is expected to be reached between \d+ \w+ 2027 and \d+ \w+ 202\d \(95 %\), most likely about \d+ \w+ 202\d\.$/,
    );
    expect(forecastCaution()).toContain("is no clearance to fly");
  });

  it("says what can’t be said", () => {
    const two = trendOf(points(line.slice(2)), "date");
    expect(said(forecastOf(two, LIMITS, from), two)).toBe(
      "Row C, left: −2.2 mm ± 0.7 mm between two checks; a trend needs three.",
    );
    expect(said({ kind: "no trend" }, { kind: "none" })).toContain("too few checks");
    expect(said({ kind: "changed since" })).toContain("has not been measured");
    expect(said({ kind: "beyond", limitM: -0.01 })).toContain("beyond the limit of −10 mm already");
    expect(said({ kind: "not in sight", horizon: from + 1826 })).toBe(
      "Row C, left: reaching a limit is not in sight until 14 March 2031.",
    );
    const open = {
      kind: "in sight",
      limitM: -0.01,
      earliest: 200,
      likely: 300,
      latest: undefined,
      horizon: 600,
    } as const;
    expect(said(open, trend, "hours", 100)).toBe(
      "Row C, left: the limit of −10 mm may be reached from 200 flight hours on; the checks don’t tell until when.",
    );
  });

  it.each(LANGUAGES)("is said in %s without places left open", async (language) => {
    speak({ language, locale: localeOf(language), catalogue: await catalogueOf(language) });
    const all = [
      said(forecastOf(trend, LIMITS, from)),
      said({ kind: "not in sight", horizon: 600 }, trend, "hours", 100),
      said({ kind: "beyond", limitM: 0.01 }),
      sayForecast(
        { row: "brake", side: undefined, against: undefined },
        { kind: "none" },
        { kind: "no trend" },
        "date",
        from,
      ),
      forecastCaution(),
    ];
    for (const text of all) expect(text).not.toMatch(/[{}]|undefined|NaN| {2}/);
  });
});
