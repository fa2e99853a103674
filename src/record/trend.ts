/** How a row goes on: its trend over date or flight hours, and when its mean will leave its tolerance. */
import type { Wing } from "../plan/index.ts";
import { normalQuantile, studentQuantile } from "../readings/index.ts";
import { firstCrossing, lastCrossing } from "./crossing.ts";
import type { RowPoint, RowSeries } from "./history.ts";
import { fitLine, type LineFit, lineAt } from "./weighted-line.ts";

/** Along what a trend goes: days since 1970-01-01, or flight hours. */
export type TrendAxis = "date" | "hours";

/** Probability outside a 95 % interval on one side. */
const OUTSIDE = 0.025;

export type Trend =
  /** no two checks in one stretch */
  | { readonly kind: "none" }
  /** two checks in one stretch, and nothing that would show whether the line is straight */
  | {
      readonly kind: "difference";
      readonly from: RowPoint;
      readonly to: RowPoint;
      /** Later less earlier [m]. */
      readonly changeM: number;
      readonly standardUncertaintyM: number;
    }
  | {
      readonly kind: "slope";
      readonly axis: TrendAxis;
      readonly fit: LineFit;
      /** Per day or flight hour [m]. */
      readonly slopeM: number;
      /** With what the scatter about the line shows, where that is more than the readings' own uncertainties let expect [m]. */
      readonly slopeUncertaintyM: number;
      /** By this the uncertainties of the fit are to be multiplied for that: 1 where the scatter is no more. */
      readonly inflation: number;
      /** Coverage factor of a 95 % interval. */
      readonly coverage: number;
      /** Whether the last level still holds: no work was done after the last check. */
      readonly levelHolds: boolean;
    };

/**
 * The trend of a row.
 *
 * One slope is taken for all stretches, each with a level of its own, so that a loop that was taken out or a line that was
 * replaced doesn't count as growing or shrinking. That a new line shrinks like the old ones is an assumption. The checks count
 * as independent: what an instrument has in common with itself from year to year makes the true uncertainty smaller.
 *
 * Where the points scatter about the line by no more than the readings' uncertainties let expect (χ² per degree of freedom up to
 * 1), these are taken as they are, with normal coverage; where by more, they are enlarged by the Birge ratio and Student's t is
 * taken (R. T. Birge, Phys. Rev. 40 (1932) 207–227, from memory). On made-up rows that shrink evenly a 95 % interval then holds
 * in 96 to 97 % where the uncertainties are right, and with five checks in 94 %, with three in 87 % where the readings scatter
 * twice as much as they say; enlarging only what fails a χ² test would hold in 87 and 78 %.
 */
export function trendOf(
  { points, changedSince }: Pick<RowSeries, "points" | "changedSince">,
  axis: TrendAxis,
): Trend {
  const placed = points.flatMap((point) => {
    const x = axis === "date" ? point.day : point.hours;
    return x === undefined ? [] : [{ point, x }];
  });
  const fit = fitLine(
    placed.map(({ point, x }) => ({
      x,
      y: point.meanM,
      uncertainty: point.standardUncertaintyM,
      stretch: point.stretch,
    })),
  );
  if (fit === undefined) return { kind: "none" };
  if (fit.degreesOfFreedom === 0) return difference(placed);
  const inflation = Math.max(1, fit.birgeRatio ?? 1);
  return {
    kind: "slope",
    axis,
    fit,
    slopeM: fit.slope,
    slopeUncertaintyM: fit.slopeUncertainty * inflation,
    inflation,
    coverage:
      inflation > 1 ? studentQuantile(1 - OUTSIDE, fit.degreesOfFreedom) : normalQuantile(1 - OUTSIDE),
    levelHolds: !changedSince,
  };
}

/** Of the one pair of checks that lie in one stretch. */
function difference(placed: readonly { readonly point: RowPoint }[]): Trend {
  const at = placed.findIndex(({ point }, place) => placed[place + 1]?.point.stretch === point.stretch);
  const [from, to] = [placed[at]?.point, placed[at + 1]?.point];
  if (from === undefined || to === undefined) return { kind: "none" };
  return {
    kind: "difference",
    from,
    to,
    changeM: to.meanM - from.meanM,
    standardUncertaintyM: Math.hypot(from.standardUncertaintyM, to.standardUncertaintyM),
  };
}

export interface RowLimits {
  readonly lowerM: number;
  readonly upperM: number;
}

/**
 * Limits of a series, the user's: for a row's mean the tolerance on a path; for brakes, where the plan tells, also not so short
 * that less than the least free travel is left; for one row against another the tolerance between rows.
 */
export function limitsOf(
  { tolerances, brakes }: Pick<Wing, "tolerances" | "brakes">,
  { row, against }: Pick<RowSeries, "row" | "against">,
): RowLimits {
  const { pathM, rowToRowM, minBrakeFreeTravelM } = tolerances;
  if (against !== undefined) return { lowerM: -rowToRowM, upperM: rowToRowM };
  const travelM = row === "brake" && brakes !== undefined ? brakes.freeTravelM - minBrakeFreeTravelM : pathM;
  return { lowerM: -Math.max(0, Math.min(pathM, travelM)), upperM: pathM };
}

export type Forecast =
  | { readonly kind: "no trend" }
  /** work was done after the last check: where the row stands now wasn't measured */
  | { readonly kind: "changed since" }
  /** the line is beyond a limit at the last check already */
  | { readonly kind: "beyond"; readonly limitM: number }
  /** not even an edge of the 95 % band reaches a limit before the horizon */
  | { readonly kind: "not in sight"; readonly horizon: number }
  /** In days since 1970-01-01 or flight hours: where the near edge of the band, the line, and the far edge reach the limit. */
  | {
      readonly kind: "in sight";
      readonly limitM: number;
      readonly earliest: number;
      /** Undefined where that isn't before the horizon. */
      readonly likely: number | undefined;
      readonly latest: number | undefined;
      readonly horizon: number;
    };

/** How far ahead is looked: five years, or 500 flight hours; a straight line drawn on farther would say nothing. Assumption. */
export const HORIZON: Readonly<Record<TrendAxis, number>> = { date: 5 * 365.25, hours: 500 };

/**
 * When a row's mean will leave its limits, as an interval: from where the near edge of the line's 95 % band reaches the limit to
 * where the far edge does (Fieller's interval for the crossing). The band is that of the mean, not of a further check's
 * reading. Both limits are looked at; the one that may be reached first is told.
 *
 * A straight line drawn on: it sets no date until which anything may be flown.
 *
 * @param from where looking ahead begins: the last check; later where today is later
 */
export function forecastOf(
  trend: Trend,
  { lowerM, upperM }: RowLimits,
  from: number,
  horizon = trend.kind === "slope" ? HORIZON[trend.axis] : 0,
): Forecast {
  if (trend.kind !== "slope") return { kind: "no trend" };
  if (!trend.levelHolds) return { kind: "changed since" };
  const { fit, inflation, coverage } = trend;
  const level = fit.levels.at(-1);
  if (level === undefined) return { kind: "no trend" };
  const now = lineAt(fit, from);
  if (now.y <= lowerM) return { kind: "beyond", limitM: lowerM };
  if (now.y >= upperM) return { kind: "beyond", limitM: upperM };
  const until = from + horizon;
  const within = (x: number | undefined): number | undefined =>
    x === undefined || x > until ? undefined : x;
  // Turned so that the room left shrinks to 0 as the limit is reached.
  const ways = [
    { limitM: lowerM, room: level.y - lowerM, slope: fit.slope },
    { limitM: upperM, room: upperM - level.y, slope: -fit.slope },
  ].flatMap(({ limitM, room, slope }) => {
    const band = {
      room,
      slope,
      levelSpread: coverage * inflation * level.uncertainty,
      slopeSpread: coverage * inflation * fit.slopeUncertainty,
      from: from - level.x,
    };
    const near = firstCrossing(band);
    const earliest = within(near === undefined ? undefined : near + level.x);
    if (earliest === undefined) return [];
    const far = lastCrossing(band);
    const likely = slope < 0 ? level.x - room / slope : undefined;
    return [
      {
        limitM,
        earliest,
        likely: within(likely),
        latest: within(far === undefined ? undefined : far + level.x),
      },
    ];
  });
  const [first] = ways.sort((a, b) => a.earliest - b.earliest);
  return first === undefined
    ? { kind: "not in sight", horizon: until }
    : { kind: "in sight", ...first, horizon: until };
}
