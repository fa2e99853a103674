/** Incidence change along the span with what is known of it, and an axis that holds it. */
import { median } from "d3-array";
import type { Band } from "../../diagnosis/assumption-band.ts";
import type { IncidenceBands, Interval } from "../../diagnosis/bands.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import type { Side } from "../../plan/model.ts";

export interface IncidencePoint {
  readonly side: Side;
  readonly rib: number;
  /** −1 at the left tip, 0 in the middle, 1 at the right tip. */
  readonly x: number;
  /** Nose-up positive, as are the intervals [degrees]. */
  readonly degrees: number;
  /** Half-width of what the model's assumptions alone leave; undefined where it isn't worked out [degrees]. */
  readonly assumptions?: number | undefined;
  /** What the readings alone leave, 95 %; undefined until the readings are judged. */
  readonly readings?: Interval | undefined;
  /** Readings and assumptions together, 95 %; undefined until the readings are judged. */
  readonly together?: Interval | undefined;
}

const toDegrees = (angle: number): number => (angle * 180) / Math.PI;

/**
 * Incidence change per attached rib, left tip to right tip.
 *
 * A lead of the wing shown over the wing judged (something is tried, or rigged otherwise) moves the intervals along:
 * what is known of the readings is known of what is added to them.
 *
 * @param band what assumptions leave, as long as the readings aren't judged
 * @param bands of the readings judged; its assumptions go before `band`
 */
export function incidenceSeries(
  analysis: Pick<Analysis, "ribs">,
  band?: Band,
  bands?: IncidenceBands,
): readonly IncidencePoint[] {
  const early = new Map(band?.ribs.map((rib, i) => [`${rib.side} ${rib.rib}`, band.halfWidthRad[i]]));
  const judged = new Map(bands?.ribs.map((rib) => [`${rib.side} ${rib.rib}`, rib]));
  return analysis.ribs
    .map((rib): IncidencePoint => {
      const known = judged.get(`${rib.side} ${rib.rib}`);
      const halfRad = known?.assumptionsRad ?? early.get(`${rib.side} ${rib.rib}`);
      const lead = known === undefined ? 0 : rib.incidenceRad - known.measuredRad;
      const moved = (interval: Interval | undefined): Interval | undefined =>
        interval && { low: toDegrees(interval.low + lead), high: toDegrees(interval.high + lead) };
      return {
        side: rib.side,
        rib: rib.rib,
        x: (rib.side === "left" ? -1 : 1) * rib.sigma,
        degrees: toDegrees(rib.incidenceRad),
        assumptions: halfRad === undefined ? undefined : toDegrees(halfRad),
        readings: moved(known?.drawn95),
        together: moved(known?.combined95),
      };
    })
    .sort((a, b) => a.x - b.x);
}

/** The widest of a rib's bands: both together once judged, what assumptions leave before. */
export function widestBand({ degrees, assumptions, together }: IncidencePoint): Interval | undefined {
  if (together !== undefined) return together;
  return assumptions === undefined ? undefined : { low: degrees - assumptions, high: degrees + assumptions };
}

/** A band that reaches farther than this many times the usual one, and than all points lie apart, is cut off. */
const FAR = 3;

/**
 * Axis of incidence changes in degrees, [lowest, highest]: at least −0.5 to 0.5, rounded out to half degrees. All points lie
 * on it, and all bands but uncommonly wide ones, which would squeeze the others.
 */
export function incidenceDomain(points: readonly IncidencePoint[]): readonly [number, number] {
  const reaches = points.flatMap((point) => {
    const band = widestBand(point);
    return band === undefined ? [] : [Math.max(point.degrees - band.low, band.high - point.degrees)];
  });
  const degrees = points.map((point) => point.degrees);
  const most = Math.max(FAR * (median(reaches) ?? 0), Math.max(0.5, ...degrees) - Math.min(0, ...degrees));
  const low = points.map((point) =>
    Math.min(point.degrees * 1.06, Math.max(widestBand(point)?.low ?? point.degrees, point.degrees - most)),
  );
  const high = points.map((point) =>
    Math.max(point.degrees * 1.06, Math.min(widestBand(point)?.high ?? point.degrees, point.degrees + most)),
  );
  return [
    Math.floor(Math.min(-0.5, ...low) * 2 + 1e-9) / 2,
    Math.ceil(Math.max(0.5, ...high) * 2 - 1e-9) / 2,
  ];
}

/** Ribs whose band goes on beyond the axis, and to which side. */
export function cutBands(
  points: readonly IncidencePoint[],
  [lowest, highest]: readonly [number, number],
): readonly { readonly point: IncidencePoint; readonly below: boolean; readonly above: boolean }[] {
  return points.flatMap((point) => {
    const band = widestBand(point);
    const below = band !== undefined && band.low < lowest - 1e-9;
    const above = band !== undefined && band.high > highest + 1e-9;
    return below || above ? [{ point, below, above }] : [];
  });
}
