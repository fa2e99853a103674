/** Paths, or whole lower lines, that stand apart from their own row and side. */
import type { Row, Side, Wing } from "../plan/model.ts";
import type { Deviations } from "../readings/model.ts";
import { robustLine } from "./robust.ts";
import { mean, median } from "./rows.ts";

export interface Outlier {
  readonly kind: "lower line" | "path";
  readonly side: Side;
  readonly row: Row;
  /** The line that all the paths concerned share: the lower line, or the one at the tab. */
  readonly lineKey: string;
  readonly tabKeys: readonly string[];
  /** How far from what the row's other paths suggest at this place [m]. */
  readonly offM: number;
}

/** One measured path: which, where along the span, how far off. */
interface Entry {
  readonly tab: number;
  readonly place: number;
  readonly value: number;
}

/** An outlier is at least this far off [m], and this many robust standard deviations of its row and side. */
const LEAST_OFF = 0.006;
const LEAST_SIGMAS = 3.5;
/** A path is never read more surely than this: common practice for a 1 mm instrument, no source [m]. */
const LEAST_SPREAD = 0.0015;
/** Standard deviation of a normal distribution over its median absolute deviation. */
const MAD_TO_SIGMA = 1.4826;

/**
 * The row's own trend along the span is taken out first (line through the medians of its inner and its outer half), so
 * that a row that shrinks towards the tip isn't full of outliers. Then groups on one lower line are looked at before
 * single paths, so that a wrong loop is one finding, not eight.
 */
export function findOutliers(wing: Wing, deviations: Deviations): Outlier[] {
  const found: Outlier[] = [];
  const groups = new Map<string, Entry[]>();
  deviations.paths.forEach((path, tab) => {
    if (path.deviationM === undefined) return;
    const key = `${path.side} ${path.row}`;
    const entry = { tab, place: wing.tabs[tab]?.rib ?? 0, value: path.deviationM };
    groups.set(key, [...(groups.get(key) ?? []), entry]);
  });
  for (const group of groups.values()) {
    if (group.length < 5) continue;
    let rest = group;
    for (;;) {
      const apart = clearestGroup(wing, rest);
      if (!apart) break;
      found.push(outlier(wing, "lower line", apart.lineKey, apart.members, apart.offM));
      rest = rest.filter((entry) => !apart.members.includes(entry));
    }
    for (const entry of rest) {
      const { off, limitFor } = against(rest.filter((other) => other !== entry));
      const lineKey = wing.tabs[entry.tab]?.lineKey;
      if (Math.abs(off(entry)) >= limitFor([entry]) && lineKey !== undefined)
        found.push(outlier(wing, "path", lineKey, [entry], off(entry)));
    }
  }
  return found.sort((a, b) => Math.abs(b.offM) - Math.abs(a.offM));
}

/**
 * The lower line whose tabs stand apart together, if there is one. Of several candidates the true one is that without
 * which the others agree best: a group that is off makes its neighbours look off as well.
 */
function clearestGroup(
  wing: Wing,
  group: readonly Entry[],
): { lineKey: string; members: readonly Entry[]; offM: number } | undefined {
  const lowerOf = (entry: Entry): string | undefined => wing.paths[entry.tab]?.lineKeys[0];
  let best: { lineKey: string; members: readonly Entry[]; offM: number; spread: number } | undefined;
  for (const lineKey of new Set(group.map(lowerOf))) {
    const members = group.filter((entry) => lowerOf(entry) === lineKey);
    const others = group.filter((entry) => lowerOf(entry) !== lineKey);
    if (lineKey === undefined || members.length < 2 || members.length > others.length) continue;
    const { off, limitFor, spread } = against(others);
    const offM = median(members.map(off)) ?? 0;
    const together = members.every(
      (entry) => Math.abs(off(entry) - offM) < Math.max(LEAST_OFF / 2, 2 * spread),
    );
    if (Math.abs(offM) >= limitFor(members) && together && (!best || spread < best.spread))
      best = { lineKey, members, offM, spread };
  }
  return best;
}

/**
 * How far an entry is from what the others suggest at its place, and from where on that is remarkable for some entries
 * together [m]. What is remarkable grows with the trend's own uncertainty there, σ·√(1/m + 1/n + (x − x̄)²/Σ(xᵢ − x̄)²) for
 * m entries against n others (the prediction error of a straight line): a few tabs on one line say little of the tip.
 */
function against(others: readonly Entry[]): {
  off: (entry: Entry) => number;
  limitFor: (entries: readonly Entry[]) => number;
  spread: number;
} {
  const expected = robustTrend(others);
  const off = (entry: Entry): number => entry.value - expected(entry.place);
  const spread = MAD_TO_SIGMA * (median(others.map((entry) => Math.abs(off(entry)))) ?? 0);
  const middle = mean(others.map((entry) => entry.place)) ?? 0;
  const width = others.reduce((sum, entry) => sum + (entry.place - middle) ** 2, 0);
  const limitFor = (entries: readonly Entry[]): number => {
    const lever = (mean(entries.map((entry) => entry.place)) ?? 0) - middle;
    const share = 1 / entries.length + 1 / others.length + (width > 0 ? (lever * lever) / width : 0);
    return Math.max(
      LEAST_OFF,
      LEAST_SIGMAS * spread,
      LEAST_SIGMAS * Math.max(LEAST_SPREAD, spread) * Math.sqrt(share),
    );
  };
  return { off, limitFor, spread };
}

function outlier(
  wing: Wing,
  kind: Outlier["kind"],
  lineKey: string,
  entries: readonly { tab: number }[],
  offM: number,
): Outlier {
  const tabs = entries.flatMap(({ tab }) => wing.tabs[tab] ?? []);
  const first = tabs[0] as (typeof tabs)[number];
  return { kind, side: first.side, row: first.row, lineKey, tabKeys: tabs.map((tab) => tab.key), offM };
}

function robustTrend(group: readonly Entry[]): (place: number) => number {
  const { level, slope } = robustLine(group.map(({ place, value }) => ({ x: place, y: value })));
  return (place) => level + slope * place;
}
