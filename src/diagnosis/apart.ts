/** Which lines the readings can't tell apart. */
import type { Wing } from "../plan/model.ts";
import type { Deviations } from "../readings/model.ts";
import { correlation, covarianceWith } from "./moments.ts";
import type { Posterior, Term } from "./posterior.ts";

/** Two lines of one path whose changes are so correlated can't be told apart by the readings. */
const NOT_APART = -0.9;
/** Correlation from which on a line of the rest counts among those that it can't be told apart from together. */
const TAKES_PART = -0.3;
/** A line whose standard deviation is below this share of its own spread is known well enough whatever its partners. */
const WELL_KNOWN = 0.5;

/**
 * Per line: the lines of its own paths that the readings can't tell it apart from, with the correlation.
 *
 * A single partner: correlation below −0.9, or the same paths run through both. Several together: the line is so correlated
 * with the rest of its paths (a lower line with all that hangs on it); then those lines of the rest that take part.
 */
export function partnersOf(wing: Wing, deviations: Deviations, result: Posterior): Term[][] {
  const alone = new Set(deviations.lines.map((reading) => reading.lineKey));
  const index = new Map(wing.lines.map((line, m) => [line.key, m]));
  const through: number[][] = wing.lines.map(() => []);
  wing.paths.forEach((path, tab) => {
    if (deviations.paths[tab]?.deviationM === undefined) return;
    for (const key of path.lineKeys) through[index.get(key) as number]?.push(tab);
  });
  const incidence = through.map((tabs) => tabs.join(" "));
  const vague = (m: number): boolean =>
    !alone.has(wing.lines[m]?.key ?? "") &&
    (result.deviation[m] as number) > WELL_KNOWN * (result.model.spread[m] as number);
  return wing.lines.map((_, m) => {
    if (!vague(m)) return [];
    const others = new Map<number, number>();
    for (const tab of through[m] as number[])
      for (const key of wing.paths[tab]?.lineKeys ?? []) {
        const other = index.get(key) as number;
        if (other !== m) others.set(other, (others.get(other) ?? 0) + 1);
      }
    const all = [...others.keys()]
      .map((other) => ({ index: other, coefficient: correlation(result, m, other) }))
      .sort((a, b) => a.coefficient - b.coefficient);
    const single = all.filter(
      ({ index: other, coefficient }) =>
        vague(other) && (coefficient < NOT_APART || incidence[other] === incidence[m]),
    );
    if (single.length > 0 || all.length === 0) return single;
    const rest = [...others].map(([other, paths]) => ({ index: other, coefficient: paths }));
    const { withMembers, variance } = covarianceWith(result, { members: rest, effects: [] });
    const together = (withMembers[m] as number) / Math.sqrt(variance) / (result.deviation[m] as number);
    return together < NOT_APART ? all.filter(({ coefficient }) => coefficient < TAKES_PART) : [];
  });
}
