/** The lines beside one along the span, and what their paths say. */
import type { Line, Wing } from "../plan/index.ts";
import {
  type Deviations,
  differenceWeights,
  meanWeights,
  type PathUncertainties,
  standardUncertainty,
  type TabWeights,
} from "../readings/index.ts";
import type { SwapNeighbour, SwapTarget } from "./swap-model.ts";

/** Tabs above each line, as indices in the wing's order. */
export function tabIndices(wing: Wing): ReadonlyMap<string, readonly number[]> {
  const above = new Map<string, number[]>(wing.lines.map(({ key }) => [key, []]));
  for (const [tab, { lineKeys }] of wing.paths.entries())
    for (const key of lineKeys) above.get(key)?.push(tab);
  return above;
}

/** Mean of the deviations that were read; undefined where none was [m]. */
export function meanRead(deviations: Deviations | undefined, tabs: readonly number[]): number | undefined {
  const read = readTabs(deviations, tabs);
  if (read.length === 0) return undefined;
  return read.reduce((sum, tab) => sum + (deviations?.paths[tab]?.deviationM as number), 0) / read.length;
}

export function readTabs(deviations: Deviations | undefined, tabs: readonly number[]): readonly number[] {
  return tabs.filter((tab) => deviations?.paths[tab]?.deviationM !== undefined);
}

/**
 * The lines beside one: of its row, tier and side, the next one towards the middle and towards the tip that stays; and
 * its twin. "Beside" goes by the mean rib of the tabs above.
 */
export function neighboursOf(
  wing: Wing,
  line: Line,
  tabsAbove: ReadonlyMap<string, readonly number[]>,
  deviations: Deviations | undefined,
  replaced: ReadonlySet<string>,
): readonly SwapNeighbour[] {
  const tabsOf = (key: string): readonly number[] => tabsAbove.get(key) ?? [];
  const rib = (key: string): number => {
    const tabs = tabsOf(key);
    return tabs.reduce((sum, tab) => sum + (wing.tabs[tab]?.rib as number), 0) / tabs.length;
  };
  const alike = wing.lines
    .filter(
      (other) =>
        other.side === line.side &&
        other.row === line.row &&
        other.tier === line.tier &&
        tabsOf(other.key).length > 0,
    )
    .map(({ key }) => ({ key, rib: rib(key) }))
    .sort((a, b) => a.rib - b.rib);
  const at = alike.findIndex(({ key }) => key === line.key);
  const stays = ({ key }: { key: string }): boolean => !replaced.has(key);
  const inner = alike.slice(0, Math.max(0, at)).findLast(stays)?.key;
  const outer = alike.slice(at + 1).find(stays)?.key;
  const told = (lineKey: string | undefined, place: SwapNeighbour["place"]): readonly SwapNeighbour[] => {
    if (lineKey === undefined) return [];
    const gone = replaced.has(lineKey);
    return [
      { lineKey, place, replaced: gone, meanM: gone ? undefined : meanRead(deviations, tabsOf(lineKey)) },
    ];
  };
  return [...told(inner, "inner"), ...told(outer, "outer"), ...told(line.mirrorKey, "twin")];
}

/**
 * What the paths above a line are to meet: the mean of its neighbours, or else its twin, or else where they are now. The
 * paths above a brake's lower line are to meet the plan: what they have lost is lost from the free travel.
 */
export function targetOf(
  line: Line,
  neighbours: readonly SwapNeighbour[],
  nowM: number | undefined,
): SwapTarget {
  if (line.hangsOn.kind === "pulley" && nowM !== undefined)
    return { basis: "specified", meanM: 0, lineKeys: [] };
  const read = neighbours.filter(({ meanM }) => meanM !== undefined);
  const beside = read.filter(({ place }) => place !== "twin");
  const chosen = beside.length > 0 ? beside : read;
  if (chosen.length === 0 || nowM === undefined) return { basis: "old line", meanM: nowM, lineKeys: [] };
  return {
    basis: beside.length > 0 ? "neighbours" : "twin",
    meanM: chosen.reduce((sum, { meanM }) => sum + (meanM as number), 0) / chosen.length,
    lineKeys: chosen.map(({ lineKey }) => lineKey),
  };
}

/** Standard uncertainty that the readings leave on a line's mean less its target [m]; 0 where that is where the line is itself. */
export function readingPart(
  uncertainties: PathUncertainties | undefined,
  deviations: Deviations | undefined,
  tabs: readonly number[],
  { basis }: SwapTarget,
  targetTabs: readonly (readonly number[])[],
): number {
  if (uncertainties === undefined || basis === "old line") return 0;
  const target = new Map<number, number>();
  for (const each of targetTabs)
    for (const [tab, weight] of meanWeights(readTabs(deviations, each)))
      target.set(tab, (target.get(tab) ?? 0) + weight / targetTabs.length);
  const weights: TabWeights = differenceWeights(meanWeights(readTabs(deviations, tabs)), target);
  return standardUncertainty(uncertainties, weights);
}
