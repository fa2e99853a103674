/** What the swap sheet's screens are made from: the loops before the work, what was chosen, and how it is tried in the 3D. */
import type { Side, Wing } from "../../plan/index.ts";
import type { Deviations } from "../../readings/index.ts";
import { say, signedLength } from "../../words/index.ts";
import {
  type BenchPair,
  kindAfterWith,
  kindName,
  type Landing,
  type LineLoops,
  type LoopBook,
  type SwapSheet,
  type SwapSide,
  type SwapStep,
} from "../../workshop/index.ts";
import { within } from "./workshop-figures.ts";
import type { ReplaceJob } from "./workshop-replace.ts";

/**
 * The book as it was before these lines came off: their loops as the maillon's card recorded them. Once the new ones are
 * ticked off, the present loops are theirs, but the readings are still those of the old lines with the old loops.
 */
export function bookBefore(book: LoopBook, lineKeys: Iterable<string>): LoopBook {
  const present = new Map(book.present);
  for (const key of lineKeys)
    for (const { order, loops, recorded } of book.maillons) {
      const loop = loops[order.indexOf(key)];
      if (recorded !== undefined && loop !== undefined) present.set(key, loop);
    }
  return { ...book, present };
}

/** Lengths on the bench by line. */
export function benchLengths(jobs: readonly ReplaceJob[]): ReadonlyMap<string, BenchPair> {
  return new Map(
    jobs.flatMap(({ lines }) =>
      lines.map(({ line, entry: { oldM, newM } }) => [line.key, { oldM, newM }] as const),
    ),
  );
}

/** Line key → index of the landing whose loop was chosen; lines for which none was are left out. */
export function chosenLandings(
  jobs: readonly ReplaceJob[],
  sheets: readonly SwapSheet[],
): ReadonlyMap<string, number> {
  const wanted = new Map(
    jobs.flatMap(({ lines }) => lines.map(({ line, entry }) => [line.key, entry.loopKindId] as const)),
  );
  const chosen = new Map<string, number>();
  for (const { sides } of sheets)
    for (const { lineKey, landings } of sides) {
      const kindId = wanted.get(lineKey);
      const at = kindId === undefined ? -1 : landings.findIndex(({ state }) => state?.kind.id === kindId);
      if (at >= 0) chosen.set(lineKey, at);
    }
  return chosen;
}

/** The landing that counts: the one chosen, or else the one suggested. */
export function landingOf(side: SwapSide, chosen: ReadonlyMap<string, number>): Landing | undefined {
  const at = chosen.get(side.lineKey) ?? side.suggested;
  return at === undefined ? undefined : side.landings[at];
}

/** How a swap is tried: its loop as a loop, and what else moves the paths as a length, in whole millimetres. */
export interface SwapTrial {
  /** Line key → kind; undefined: as it is now. */
  readonly ties: ReadonlyMap<string, string | undefined>;
  /** Line key → change of length, 0 for none [mm]. */
  readonly mm: ReadonlyMap<string, number>;
  /** Lines whose landing isn't known, since the old length isn't. */
  readonly unknown: readonly string[];
}

/**
 * @param loops as they are now: what a tie is counted from
 */
export function swapTrial(
  sheets: readonly SwapSheet[],
  chosen: ReadonlyMap<string, number>,
  loops: readonly LineLoops[],
): SwapTrial {
  const loopsOf = new Map(loops.map((one) => [one.lineKey, one]));
  const ties = new Map<string, string | undefined>();
  const mm = new Map<string, number>();
  const unknown: string[] = [];
  for (const { sides } of sheets)
    for (const side of sides) {
      if (!side.replaced) continue;
      const landing = landingOf(side, chosen);
      if (landing?.changeM === undefined) {
        unknown.push(side.lineKey);
        continue;
      }
      const own = loopsOf.get(side.lineKey);
      const now = own?.states[own.present];
      const tied = own === undefined ? undefined : landing.state;
      if (own !== undefined)
        ties.set(
          side.lineKey,
          tied === undefined || tied.kind.id === now?.kind.id ? undefined : tied.kind.id,
        );
      const byLoopM = tied === undefined || now === undefined ? 0 : now.takeUpM - tied.takeUpM;
      mm.set(side.lineKey, Math.round((landing.changeM - byLoopM) * 1000));
    }
  return { ties, mm, unknown };
}

/** Whether what is tried of these lines is this. */
export function isTriedSo(
  trial: SwapTrial,
  tried: { readonly trials: ReadonlyMap<string, number>; readonly loops: ReadonlyMap<string, string> },
): boolean {
  return (
    trial.mm.size > 0 &&
    [...trial.ties].every(([key, kindId]) => tried.loops.get(key) === kindId) &&
    [...trial.mm].every(([key, mm]) => (tried.trials.get(key) ?? 0) === mm)
  );
}

/** "girth hitch" with what it takes up, for a table. */
export function sayLoop({ state }: Pick<Landing, "state">): string {
  return state === undefined ? say("replace.loop.none") : kindName(state.kind);
}

/** How far the difference may be off with a coverage of about 95 %, without a sign; a dash where it isn't known. */
export function sayWithin(standardUncertaintyM: number | undefined): string {
  return standardUncertaintyM === undefined ? "–" : within(standardUncertaintyM);
}

/** Less than this is hardly a change at all [m]. */
const HARDLY_M = 0.0005;

/** Which of a message's cases a target is. */
export const TARGET: Readonly<Record<SwapSide["target"]["basis"], string>> = {
  neighbours: "neighbours",
  twin: "twin",
  specified: "specified",
  "old line": "old",
};

/** How it is once the new line has shrunk too; undefined where nothing is known of it. */
export function sayLater(side: SwapSide): readonly string[] {
  const { later, suggested, landings } = side;
  if (later === undefined || suggested === undefined) return [];
  const loop = landings[suggested]?.state?.kind;
  const { bestOut, basis, changeM, differenceM } = later;
  const neighbours = side.target.basis === "twin" ? "twin" : "neighbours";
  return [
    say("replace.later", {
      like: basis === "neighbours" ? neighbours : "old",
      size: Math.abs(changeM) < HARDLY_M ? "hardly" : "told",
      by: signedLength(changeM, 1),
      lands: signedLength(differenceM, 1),
      target: TARGET[side.target.basis],
      loop: loop === undefined ? "none" : "suggested",
      name: loop === undefined ? "" : kindName(loop),
      best: bestOut !== undefined ? "out" : loop === undefined ? "none" : "same",
      other: bestOut === undefined ? "" : kindAfterWith(bestOut.state.kind),
      otherLands: bestOut === undefined ? "" : signedLength(bestOut.differenceM, 1),
    }),
  ];
}

/** The steps up to the comparison of old and new, and those after it. */
export function stepsAround(steps: readonly SwapStep[]): readonly [readonly SwapStep[], readonly SwapStep[]] {
  const at = steps.findIndex(({ id }) => id === "compare") + 1;
  return [steps.slice(0, at), steps.slice(at)];
}

/** One path of the row, for the chart of landings. */
export interface LandingMark {
  readonly tabId: string;
  readonly rib: number;
  /** As read now [m]; undefined where it wasn't. */
  readonly nowM: number | undefined;
  /** With the new line [m]; undefined where it stays, or isn't known. */
  readonly landsM: number | undefined;
  readonly beside: boolean;
}

/** The paths of a line's row on its side, from the middle outwards: as they are, and those above the line as they land. */
export function landingMarks(
  wing: Wing,
  deviations: Deviations | undefined,
  side: SwapSide,
  landing: Landing | undefined,
): readonly LandingMark[] {
  const line = wing.lines.find(({ key }) => key === side.lineKey);
  const lands = new Map(landing?.paths.map(({ tabKey, deviationM }) => [tabKey, deviationM]));
  const above = new Set(
    wing.paths.flatMap(({ lineKeys, tabKey }) => (lineKeys.includes(side.lineKey) ? [tabKey] : [])),
  );
  const targets = new Set(side.target.lineKeys);
  return wing.paths
    .flatMap((path, at): LandingMark[] => {
      const tab = wing.tabs[at];
      if (tab === undefined || line === undefined || path.row !== line.row || path.side !== line.side)
        return [];
      return [
        {
          tabId: tab.id,
          rib: tab.rib,
          nowM: deviations?.paths[at]?.deviationM,
          landsM: above.has(path.tabKey) ? lands.get(path.tabKey) : undefined,
          beside: path.lineKeys.some((key) => targets.has(key)),
        },
      ];
    })
    .toSorted((a, b) => a.rib - b.rib);
}

/** Maillons that are opened for the lines that are replaced, each with its side, left before right. */
export function maillonsOpened(
  jobs: readonly ReplaceJob[],
): readonly { readonly maillonId: string; readonly side: Side }[] {
  const found = new Map<string, { readonly maillonId: string; readonly side: Side }>();
  for (const { lines } of jobs)
    for (const { line } of lines)
      if (line.hangsOn.kind === "maillon") {
        const { maillonId } = line.hangsOn;
        found.set(`${maillonId} ${line.side}`, { maillonId, side: line.side });
      }
  return [...found.values()];
}
