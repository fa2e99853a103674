/** What the findings have in common: figures with their uncertainty, the lines that they speak of. */
import type { Row, Side, Wing } from "../../plan/model.ts";
import type { Deviations } from "../../readings/model.ts";
import {
  meanWeights,
  type PathUncertainties,
  standardUncertainty,
  type TabWeights,
} from "../../readings/uncertainty.ts";
import type { Analysis } from "../model.ts";
import { robustUncertainty } from "../robust.ts";
import { plainMm } from "../wording.ts";

/** What a finding is made from. */
export interface Grounds {
  readonly wing: Wing;
  readonly deviations: Deviations;
  readonly known: Pick<Analysis, "rows" | "meanIncidenceRad" | "leftIncidenceRad" | "rightIncidenceRad">;
  /** Of the same check; undefined where no uncertainty was worked out. */
  readonly uncertainties: PathUncertainties | undefined;
}

/** Below this a mean difference is within what a 1 mm reading can tell [m], where no uncertainty was worked out. */
const NOTEWORTHY = 0.002;
/** Coverage factor of the uncertainties that are written out: about 95 % (JCGM 100:2008, 6.2, from memory). */
export const COVERAGE = 2;

/** Weights of the plain mean over the paths read of a row, on one side or both; empty where none was read. */
export function rowWeights({ deviations }: Grounds, row: Row, side?: Side): TabWeights {
  return meanWeights(
    deviations.paths.flatMap((path, tab) =>
      path.row === row && path.deviationM !== undefined && (side === undefined || path.side === side)
        ? [tab]
        : [],
    ),
  );
}

/** Standard uncertainty of a combination of deviations [m]; undefined where none was worked out. */
export function doubt({ uncertainties }: Grounds, weights: TabWeights): number | undefined {
  return uncertainties === undefined || weights.size === 0
    ? undefined
    : standardUncertainty(uncertainties, weights);
}

/** The same of a row's robust mean, on one side or both. */
export function rowDoubt(grounds: Grounds, row: Row, side?: Side): number | undefined {
  const weights = rowWeights(grounds, row, side);
  return grounds.uncertainties === undefined || weights.size === 0
    ? undefined
    : robustUncertainty(grounds.uncertainties, [weights]);
}

/** The same of a row's robust mean on the left less that on the right. */
export function sidesDoubt(grounds: Grounds, row: Row): number | undefined {
  const left = rowWeights(grounds, row, "left");
  const right = rowWeights(grounds, row, "right");
  return grounds.uncertainties === undefined || left.size === 0 || right.size === 0
    ? undefined
    : robustUncertainty(grounds.uncertainties, [
        left,
        new Map([...right].map(([tab, weight]) => [tab, -weight])),
      ]);
}

/** Whether a figure stands out from its own uncertainty, and from what is worth a sentence at all. */
export function noteworthy(
  valueM: number,
  standardUncertaintyM: number | undefined,
  leastM = NOTEWORTHY,
): boolean {
  return Math.abs(valueM) >= Math.max(leastM, COVERAGE * (standardUncertaintyM ?? 0));
}

/** `12 mm (± 0.9 mm)`; the figure alone where no uncertainty was worked out. */
export function withSpread(figure: string, standardUncertaintyM: number | undefined): string {
  return standardUncertaintyM === undefined
    ? figure
    : `${figure} (± ${plainMm(COVERAGE * standardUncertaintyM, 1)})`;
}

/** The tabs, and every line on their paths. */
export function keysOf(
  wing: Wing,
  tabKeys: readonly string[],
): { lineKeys: readonly string[]; tabKeys: readonly string[] } {
  const wanted = new Set(tabKeys);
  const lineKeys = new Set<string>();
  for (const path of wing.paths)
    if (wanted.has(path.tabKey)) for (const key of path.lineKeys) lineKeys.add(key);
  return { lineKeys: [...lineKeys], tabKeys };
}
