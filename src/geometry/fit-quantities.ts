/** What the fit of the canopy may move, what is typical for it, and what the plan says outright. */
import type { Row, Wing } from "../plan/model.ts";
import { assumedSplit } from "./assumed-split.ts";
import type { ParameterName, ParameterUnit } from "./model.ts";
import type { Station } from "./stations.ts";

/** One quantity of the fit, its prior and its bounds. */
export interface Quantity {
  readonly name: QuantityName;
  readonly unit: ParameterUnit;
  readonly mean: number;
  readonly deviation: number;
  readonly lower: number;
  readonly upper: number;
  /** The plan's own value: not fitted. */
  readonly given: number | undefined;
}

/** What may be moved; the other parameters follow from these. */
export type QuantityName = Exclude<
  ParameterName,
  "tip chord" | "projected span" | "projected area" | "arch height" | "outermost rib"
>;

/** A published figure that isn't taken as it stands but held against the outline's own. */
export interface Figure {
  readonly name: "flat area" | "projected span" | "projected area";
  readonly value: number;
  /** How closely it is met: published figures are rounded, and each maker has a way of its own to take them. */
  readonly deviation: number;
}

/** Published spans agree with the outline to about this share, areas to twice as much (a wing that is published both ways: 0.06 and 0.75 %, Heatwole 2022). */
const SPAN_AGREEMENT = 0.005;
const AREA_AGREEMENT = 0.01;

/** Flat span² over flat area where nothing is known. */
const TYPICAL_ASPECT_RATIO = 5.2;
/** From the carabiner to the middle of the front row over the flat span; 0.61 on the thesis' wing (Heatwole 2022). */
const TYPICAL_CENTRAL_OVER_SPAN = 0.61;
const TYPICAL_PROJECTION = 0.79;

/** A ratio of spans that some arc has. */
const LEAST_PROJECTION = 0.5;
const MOST_PROJECTION = 0.995;

/**
 * What is known and what is typical. Means and spreads of the priors: span and projection ratios, taper and aspect ratio
 * after published wings (Belloc 2015; Heatwole 2022), the rest common practice, no source; wide enough not to argue with
 * a plan's lengths.
 */
export function fitQuantities(wing: Wing, stations: readonly Station[]): Quantity[] {
  const { canopy } = wing;
  const central = centralPath(wing);
  const list: Quantity[] = [];
  const put = (
    name: QuantityName,
    unit: ParameterUnit,
    mean: number,
    deviation: number,
    [lower, upper]: readonly [number, number],
    given?: number,
  ): void => {
    list.push({ name, unit, mean, deviation, lower, upper, given });
  };

  const [span, spanSpread] =
    canopy.projectedSpanM !== undefined
      ? [canopy.projectedSpanM / TYPICAL_PROJECTION, 0.06]
      : canopy.flatAreaM2 !== undefined
        ? [Math.sqrt(TYPICAL_ASPECT_RATIO * canopy.flatAreaM2), 0.06]
        : [central / TYPICAL_CENTRAL_OVER_SPAN, 0.08];
  put("flat span", "m", span, spanSpread * span, [0.5 * span, 2 * span], canopy.flatSpanM);
  const projection =
    canopy.projectedSpanM !== undefined && canopy.flatSpanM !== undefined
      ? Math.min(MOST_PROJECTION, Math.max(LEAST_PROJECTION, canopy.projectedSpanM / canopy.flatSpanM))
      : undefined;
  put("projected over flat span", "", TYPICAL_PROJECTION, 0.03, [0.6, 0.97], projection);
  put("arc exponent", "", 1.15, 0.25, [0.5, 3]);
  put("bank close to the tips", "of the tip's", 0.1, 0.12, [-0.4, 0.8]);

  if (canopy.rootChordM !== undefined)
    put("root chord", "m", canopy.rootChordM, 1, [0, 10], canopy.rootChordM);
  else if (canopy.flatAreaM2 !== undefined)
    put("flat area", "m²", canopy.flatAreaM2, 1, [0, 200], canopy.flatAreaM2);
  else put("aspect ratio", "", TYPICAL_ASPECT_RATIO, 0.6, [2, 10]);
  const taper =
    canopy.tipChordM !== undefined && canopy.rootChordM !== undefined
      ? canopy.tipChordM / canopy.rootChordM
      : undefined;
  put("tip chord over root chord", "", 0.24, 0.07, [0.02, 0.9], taper);
  put("planform exponent", "", 0.55, 0.15, [0.25, 1.6]);
  put("leading edge sweep", "", 0.37, 0.12, [-0.3, 1]);
  put("tip twist", "rad", 0, 0.025, [-0.15, 0.15]);
  put("carabiner behind leading edge", "root chords", 0.4, 0.06, [0, 0.9]);
  put("height over carabiners", "m", central, 0.1 * central, [0.5 * central, 1.5 * central]);
  const split = assumedSplit(wing);
  // Published cascades have a third to two fifths of a path above the lower line, makers differ; relative to the plan's.
  if (split.any) put("rise above lower lines", "of the assumed", 1, 0.25, [0.4, 2]);
  if (split.anyMiddle) put("middle lines in that rise", "of the assumed", 1, 0.2, [0.4, 1.12]);
  for (const row of assumedRows(stations)) {
    const spread = row === "tip" ? 0.08 : 0.02;
    put(`row ${row} shift`, "chords", 0, spread, [-4 * spread, 4 * spread]);
  }
  return list;
}

/** The plan's figures that aren't taken as they stand: what is given twice over, or can't be had before the fit. */
export function fitFigures(wing: Wing, quantities: readonly Quantity[]): Figure[] {
  const { canopy } = wing;
  const exact = new Set(quantities.filter((q) => q.given !== undefined).map((q) => q.name));
  const figures: Figure[] = [];
  const put = (name: Figure["name"], value: number | undefined, share: number): void => {
    if (value !== undefined) figures.push({ name, value, deviation: share * value });
  };
  if (!exact.has("flat area")) put("flat area", canopy.flatAreaM2, AREA_AGREEMENT);
  if (!exact.has("projected over flat span")) put("projected span", canopy.projectedSpanM, SPAN_AGREEMENT);
  put("projected area", canopy.projectedAreaM2, AREA_AGREEMENT);
  return figures;
}

/** Rows whose place along the chord the plan leaves open, so that the whole row may move. */
export function assumedRows(stations: readonly Station[]): ReadonlySet<Row> {
  return new Set(
    stations.flatMap((station) => station.tabs.filter((tab) => tab.assumed).map((tab) => tab.row)),
  );
}

/** Path from the carabiner to the innermost tabs, on average [m]; 7 where there is none. */
function centralPath(wing: Wing): number {
  const main = wing.tabs.flatMap((tab, i) =>
    tab.row === "brake" || tab.row === "tip" ? [] : [{ rib: tab.rib, i }],
  );
  const innermost = Math.min(...main.map((tab) => tab.rib));
  const lengths = main.filter((tab) => tab.rib === innermost).map(({ i }) => fromCarabiner(wing, i));
  return lengths.length === 0 ? 7 : lengths.reduce((sum, length) => sum + length, 0) / lengths.length;
}

function fromCarabiner(wing: Wing, tab: number): number {
  const path = wing.paths[tab] as Wing["paths"][number];
  const strap = wing.risers.find((riser) => riser.id === path.riserId)?.lengthM ?? 0;
  return path.specifiedM + (wing.reference.from === "riser" ? 0 : strap);
}
