/** The ribs that carry tabs, in order from the left tip to the right tip, with their tabs from front to rear. */
import type { Row, Side, Wing } from "../plan/model.ts";
import { ribSigma } from "./outline.ts";

/** Typical chord fractions where the plan gives none (mid-range of published and common layouts). */
const TYPICAL_FRACTIONS: Readonly<Record<number, Readonly<Partial<Record<Row, number>>>>> = {
  2: { A: 0.12, B: 0.58 },
  3: { A: 0.1, B: 0.34, C: 0.64 },
  4: { A: 0.1, B: 0.29, C: 0.56, D: 0.77 },
};
const TYPICAL_TIP_FRACTION = 0.4;

export interface StationTab {
  /** Index into the wing's tabs. */
  readonly tab: number;
  readonly row: Row;
  readonly chordFraction: number;
  /** True where the plan doesn't give the fraction, so that the fit may move the whole row. */
  readonly assumed: boolean;
}

export interface Station {
  readonly side: Side;
  readonly rib: number;
  /** Signed flat half-span coordinate, −1 left tip to +1 right tip. */
  readonly sigma: number;
  readonly tabs: readonly StationTab[];
}

/**
 * Where the outermost rib with tabs usually stands on the flat half-span, and how far from it: common practice, a tip line
 * reaches nearly to the tip, and the last of the main rows ends a few cells short of it.
 */
export function usualOutermost(wing: Wing): { readonly mean: number; readonly deviation: number } {
  return wing.tabs.some((tab) => tab.row === "tip")
    ? { mean: 0.965, deviation: 0.02 }
    : { mean: 0.9, deviation: 0.04 };
}

/** Whether the plan tells the number of cells, and so where its ribs stand. */
export function cellsKnown(wing: Wing): boolean {
  const { cells } = wing.canopy;
  return cells !== undefined && outermostRib(wing) <= Math.floor(cells / 2) + 1;
}

/** Cells of the wing: the plan's, else an even number that puts the outermost tab's rib where it usually is. */
export function cellCount(wing: Wing): number {
  if (cellsKnown(wing)) return wing.canopy.cells as number;
  const ribs = outermostRib(wing) - 1;
  return 2 * Math.max(1, ribs, Math.round(ribs / usualOutermost(wing).mean));
}

/** Numbers of cells that a wing may have whose plan doesn't tell: even, the outermost rib within three deviations of where it usually is. */
export function possibleCells(wing: Wing): number[] {
  if (cellsKnown(wing)) return [wing.canopy.cells as number];
  const { mean, deviation } = usualOutermost(wing);
  const ribs = Math.max(1, outermostRib(wing) - 1);
  const most = Math.max(ribs, Math.round(ribs / (mean - 3 * deviation)));
  return Array.from({ length: most - ribs + 1 }, (_, i) => 2 * (ribs + i));
}

/** Where the outermost rib with tabs stands on the flat half-span of a wing with so many cells, 0 to 1. */
export function outermostSigma(wing: Wing, cells: number): number {
  return ribSigma(outermostRib(wing), cells);
}

function outermostRib(wing: Wing): number {
  return wing.tabs.reduce((most, tab) => Math.max(most, tab.rib), 1);
}

/** Chord fraction of a tab: the plan's own, the row's in the plan, or a typical one. */
function fractionOf(
  wing: Wing,
  rowCount: number,
  tab: Wing["tabs"][number],
): { value: number; assumed: boolean } {
  if (tab.chordFraction !== undefined) return { value: tab.chordFraction, assumed: false };
  const ofRow = wing.canopy.rowChordFractions[tab.row];
  if (ofRow !== undefined) return { value: ofRow, assumed: false };
  if (tab.row === "brake") return { value: 1, assumed: false };
  if (tab.row === "tip") return { value: TYPICAL_TIP_FRACTION, assumed: true };
  const typical = TYPICAL_FRACTIONS[Math.min(4, Math.max(2, rowCount))]?.[tab.row];
  return { value: typical ?? 0.5, assumed: true };
}

export function attachedStations(wing: Wing, cells: number = cellCount(wing)): Station[] {
  const mainRows = new Set(wing.tabs.map((tab) => tab.row).filter((row) => row !== "tip" && row !== "brake"));
  const found = new Map<string, { side: Side; rib: number; tabs: StationTab[] }>();
  wing.tabs.forEach((tab, index) => {
    const key = `${tab.side} ${tab.rib}`;
    const station = found.get(key) ?? { side: tab.side, rib: tab.rib, tabs: [] };
    const { value, assumed } = fractionOf(wing, mainRows.size, tab);
    station.tabs.push({ tab: index, row: tab.row, chordFraction: value, assumed });
    found.set(key, station);
  });
  const stations = [...found.values()].map(({ side, rib, tabs }) => {
    // A rib in the very middle stands on one side only; a few millimetres keep its two halves apart.
    const sigma = Math.max(ribSigma(rib, cells), 0.002);
    tabs.sort((a, b) => a.chordFraction - b.chordFraction);
    return { side, rib, sigma: side === "left" ? -sigma : sigma, tabs };
  });
  return stations.sort((a, b) => a.sigma - b.sigma);
}

/**
 * Width of the flat wing that one attached rib carries, over the half-span: halfway to its neighbours that carry load,
 * the outermost to the tip. A rib with nothing but a brake tab carries none.
 */
export function tributaryWidth(stations: readonly Station[], index: number): number {
  const carries = (station: Station): boolean => station.tabs.some((tab) => tab.row !== "brake");
  const here = stations[index] as Station;
  if (!carries(here)) return 0;
  const before = stations.slice(0, index).reverse().find(carries)?.sigma;
  const after = stations.slice(index + 1).find(carries)?.sigma;
  const from = before === undefined ? -1 : (before + here.sigma) / 2;
  const to = after === undefined ? 1 : (here.sigma + after) / 2;
  return Math.max(to - from, 1e-3);
}
