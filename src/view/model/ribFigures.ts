/** One rib from the side: which ribs there are, its outlines at the states, and its change in figures. */
import type { Band } from "../../diagnosis/assumption-band.ts";
import type { IncidenceBands } from "../../diagnosis/bands.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import type { AttachedRib, RibChange } from "../../geometry/model.ts";
import { type RibView, ribView } from "../../geometry/rib-view.ts";
import type { Side } from "../../plan/model.ts";
import { fixed, lengthNumber, say } from "../../words/index.ts";
import { betweenText } from "./bandTable.ts";
import { degreesText, signed, signedMm } from "./format.ts";
import { incidenceSeries } from "./incidenceSeries.ts";

/** Rib numbers whose incidence is known, from the middle outwards. */
export function ribNumbers(analysis: Analysis): readonly number[] {
  const able = analysis.model.ribs.filter((rib) => mainTabs(rib) > 1);
  const sigma = new Map(able.map((rib) => [rib.rib, rib.sigma]));
  return [...sigma].sort((a, b) => a[1] - b[1]).map(([rib]) => rib);
}

function mainTabs(rib: AttachedRib): number {
  return rib.nodes.filter((node) => node.tabKey !== undefined && node.row !== "brake").length;
}

/** The rib asked for, or the nearest there is; the innermost where none is asked for. */
export function nearestRib(ribs: readonly number[], asked: number | undefined): number | undefined {
  if (asked === undefined) return ribs[0];
  return ribs.reduce<number | undefined>(
    (best, rib) => (best === undefined || Math.abs(rib - asked) < Math.abs(best - asked) ? rib : best),
    undefined,
  );
}

export interface RibOutlines {
  readonly side: Side;
  readonly rib: number;
  readonly specified: RibView;
  /** Undefined without readings. */
  readonly measured: RibView | undefined;
  readonly tried: RibView | undefined;
}

/** @param analysis with its model's specified state under the rigging, so that all is drawn from there */
export function ribOutlines(
  analysis: Analysis,
  states: { readonly measured: Analysis["measured"]; readonly tried: Analysis["measured"] },
  side: Side,
  ribNumber: number,
  exaggeration: number,
): RibOutlines | undefined {
  const { model } = analysis;
  const rib = model.ribs.find((each) => each.side === side && each.rib === ribNumber);
  if (rib === undefined || rib.nodes.length < 2) return undefined;
  const at = (state: Analysis["measured"]): RibView | undefined =>
    state === undefined ? undefined : ribView(model, rib, state, exaggeration);
  return {
    side,
    rib: ribNumber,
    specified: ribView(model, rib, model.specified, exaggeration),
    measured: at(states.measured),
    tried: at(states.tried),
  };
}

export interface RibFigures {
  /** Degrees, with the sign for them; with what assumptions leave until the readings are judged. */
  readonly incidence: string;
  /** Readings and assumptions together, 95 %; undefined until the readings are judged. */
  readonly between: string | undefined;
  /** Per cent of the chord; "–" with two tabs, which give none. */
  readonly camber: string;
  /** In the unit of lengths, outwards positive. */
  readonly heave: string;
  /** What the straight line and the bow leave of the tabs' displacements, in the unit of lengths; "exact" with three tabs or two. */
  readonly residual: string;
}

/** A rib's change in figures; the incidence with how well it is known, the same as in the chart. */
export function ribFigures(
  change: RibChange,
  band: Band | undefined,
  bands: IncidenceBands | undefined,
): RibFigures {
  const together = incidenceSeries({ ribs: [change] }, band, bands)[0]?.together;
  return {
    incidence:
      together === undefined
        ? withBand(change.incidenceRad, halfWidthOf(band, change.side, change.rib))
        : degreesText(change.incidenceRad),
    between: together && betweenText(together),
    camber: change.camber === undefined ? "–" : signed(change.camber * 100, 2),
    heave: signedMm(change.heaveM, 1),
    residual: change.residualM === undefined ? say("charts.exact") : lengthNumber(change.residualM, 1),
  };
}

export function halfWidthOf(band: Band | undefined, side: Side, rib: number): number | undefined {
  const place = band?.ribs.findIndex((each) => each.side === side && each.rib === rib) ?? -1;
  return place < 0 ? undefined : band?.halfWidthRad[place];
}

/** "+0.68° ± 0.04°"; without a band the angle alone. */
export function withBand(angleRad: number | undefined, halfWidthRad: number | undefined): string {
  const angle = degreesText(angleRad);
  if (halfWidthRad === undefined || angleRad === undefined) return angle;
  return `${angle} ± ${fixed((halfWidthRad * 180) / Math.PI, 2)}°`;
}
