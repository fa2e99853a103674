/** How well the incidence is known, in figures: by cause, by side, by rib. */
import type { Band, BandPart } from "../../diagnosis/assumption-band.ts";
import type { AngleBand, IncidenceBands, Interval } from "../../diagnosis/bands.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import type { AssumptionName } from "../../geometry/variants.ts";
import type { Side } from "../../plan/model.ts";
import { fixed, type Key, say } from "../../words/index.ts";
import { degreesText, signed } from "./format.ts";
import { type IncidencePoint, widestBand } from "./incidenceSeries.ts";

export interface BandRow {
  readonly name: string;
  /** What was assumed, and how far it was moved. */
  readonly explanation: string;
  readonly middle: string;
  readonly tip: string;
  readonly mean: string;
}

const CAUSES: Readonly<Record<AssumptionName, { readonly name: Key; readonly explanation: Key }>> = {
  "fabric stiffness": { name: "charts.cause.fabric", explanation: "charts.cause.fabric.why" },
  "bending stiffness": { name: "charts.cause.bending", explanation: "charts.cause.bending.why" },
  "load along the chord": { name: "charts.cause.load", explanation: "charts.cause.load.why" },
  "all-up weight": { name: "charts.cause.weight", explanation: "charts.cause.weight.why" },
};

/** Ends in words; factors (÷ 3, × 3) stand for themselves. */
const ENDS: Readonly<Record<string, Key>> = {
  rearwards: "charts.end.rearwards",
  forwards: "charts.end.forwards",
  "lightest allowed": "charts.end.lightest",
  "heaviest allowed": "charts.end.heaviest",
};

function endText(end: string): string {
  const key = ENDS[end];
  return key === undefined ? end : say(key);
}

/** One row a part and a last one for all of them together. Empty where the band has no ribs. */
export function bandRows(band: Band, sigmaOf: (side: string, rib: number) => number): readonly BandRow[] {
  const order = band.ribs.map((rib, i) => ({ i, sigma: sigmaOf(rib.side, rib.rib) }));
  const innermost = Math.min(...order.map(({ sigma }) => sigma));
  const outermost = Math.max(...order.map(({ sigma }) => sigma));
  const largest = (values: readonly number[], sigma: number): string =>
    plusMinus(Math.max(...order.filter((rib) => rib.sigma === sigma).map(({ i }) => values[i] ?? 0)));
  const row = (
    name: string,
    explanation: string,
    { halfWidthRad, meanRad }: Pick<BandPart, "halfWidthRad" | "meanRad">,
  ) => ({
    name,
    explanation,
    middle: largest(halfWidthRad, innermost),
    tip: largest(halfWidthRad, outermost),
    mean: plusMinus(meanRad),
  });
  if (band.ribs.length === 0) return [];
  return [
    ...band.parts.map((part) => {
      const cause = (CAUSES as Readonly<Record<string, (typeof CAUSES)[AssumptionName]>>)[part.name];
      const why = cause === undefined ? [] : [say(cause.explanation)];
      const ends =
        part.ends === undefined
          ? []
          : [say("charts.to", { low: endText(part.ends[0]), high: endText(part.ends[1]) })];
      const name = part.name.charAt(0).toUpperCase() + part.name.slice(1);
      return row(cause === undefined ? name : say(cause.name), [...why, ...ends].join("; "), part);
    }),
    row(say("charts.cause.all"), say("charts.cause.all.why"), band),
  ];
}

/** "± 0.04°". */
export function plusMinus(halfWidthRad: number): string {
  return `± ${fixed((halfWidthRad * 180) / Math.PI, 2)}°`;
}

/** "+0.55° to +0.81°", from degrees. */
export function betweenText({ low, high }: Interval): string {
  return say("charts.to", { low: `${signed(low, 2)}°`, high: `${signed(high, 2)}°` });
}

/** A mean as it is shown, and between what it lies. */
export interface MeanRow {
  readonly name: string;
  readonly angle: string;
  /** Readings and assumptions together, 95 %; undefined until the readings are judged. */
  readonly between: string | undefined;
  /** What the model's assumptions alone leave, before that: "± 0.02°". */
  readonly assumptions: string | undefined;
}

/** All ribs, then each side. Intervals go along with what is tried or rigged, as in the chart. Empty without readings. */
export function meanRows(
  analysis: Pick<Analysis, "meanIncidenceRad" | "leftIncidenceRad" | "rightIncidenceRad">,
  band: Band | undefined,
  bands: IncidenceBands | undefined,
): readonly MeanRow[] {
  const row = (
    name: string,
    shownRad: number | undefined,
    earlyRad: number | undefined,
    known: AngleBand | undefined,
  ): readonly MeanRow[] =>
    shownRad === undefined
      ? []
      : [
          {
            name,
            angle: degreesText(shownRad),
            between: known && betweenText(movedDegrees(known.combined95, shownRad - known.measuredRad)),
            assumptions: known === undefined && earlyRad !== undefined ? plusMinus(earlyRad) : undefined,
          },
        ];
  return [
    ...row(say("charts.ribs.all"), analysis.meanIncidenceRad, band?.meanRad, bands?.mean),
    ...row(say("charts.left"), analysis.leftIncidenceRad, band?.leftRad, bands?.left),
    ...row(say("charts.right"), analysis.rightIncidenceRad, band?.rightRad, bands?.right),
  ];
}

function movedDegrees({ low, high }: Interval, leadRad: number): Interval {
  const moved = (rad: number): number => ((rad + leadRad) * 180) / Math.PI;
  return { low: moved(low), high: moved(high) };
}

/** One rib's side as read in a table. */
export interface RibCell {
  readonly angle: string;
  /** The widest band there is: "+0.55° to +0.81°". */
  readonly between: string;
  /** What the readings alone leave; empty until judged. */
  readonly readings: string;
}

/** The chart's points as a table, from the middle outwards. */
export function ribRows(
  points: readonly IncidencePoint[],
): readonly { readonly rib: number; readonly cells: Readonly<Record<Side, RibCell | undefined>> }[] {
  const cell = (rib: number, side: Side): RibCell | undefined => {
    const point = points.find((each) => each.rib === rib && each.side === side);
    if (point === undefined) return undefined;
    const widest = widestBand(point);
    return {
      angle: `${signed(point.degrees, 2)}°`,
      between: widest === undefined ? "" : betweenText(widest),
      readings: point.readings === undefined ? "" : betweenText(point.readings),
    };
  };
  return [...new Set(points.map(({ rib }) => rib))]
    .sort((a, b) => a - b)
    .map((rib) => ({ rib, cells: { left: cell(rib, "left"), right: cell(rib, "right") } }));
}

/** Why an interval need not be centred on its figure, in one phrase. */
export function aroundLikely(): string {
  return say("charts.around");
}
