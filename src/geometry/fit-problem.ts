/** What a fit asks again and again: by how much the lines miss the tabs of a canopy. */
import type { Row, Side, Wing } from "../plan/model.ts";
import { SIDES } from "../plan/model.ts";
import { assumedSplit, type Split, TYPICAL_SPLIT } from "./assumed-split.ts";
import { chordShares } from "./chord-load.ts";
import { fractionOf, offsetOf, outlineOf, splitOf, type Values } from "./fit-values.ts";
import { hangLines, lineTree, roomFor } from "./hang-lines.ts";
import { type Cascade, riggedMembers } from "./lay-out.ts";
import { type OutlineParameters, pointOnRib } from "./outline.ts";
import { rememberedTipBank, ribFrames } from "./rib-frames.ts";
import { sectionHeight } from "./section.ts";
import { type Station, tributaryWidth } from "./stations.ts";

export interface FitProblem {
  /** Tabs whose paths are fitted. */
  readonly counted: readonly number[];
  /** Per tab, changed by `misfits` for those counted [m]. */
  readonly misfitM: Float64Array;
  /** Per tab: its share of its rib's load. */
  readonly shares: Float64Array;
  /** Paths that are off together, on average. */
  readonly inCommon: number;
  /** Lays the lines out under the canopy of these values. */
  misfits(values: Values): OutlineParameters;
  /** Takes the shares of the rows from where these values have them. */
  shareLoads(values: Values): void;
}

/**
 * The lines of one side where the sides are alike, else of both, ready to be laid out again and again. Shares along the
 * chord follow the rows only when asked to: they cost more than all the rest and matter little.
 */
export function fitProblem(
  wing: Wing,
  cascade: Cascade,
  stations: readonly Station[],
  moved: ReadonlySet<Row>,
): FitProblem {
  const sides: readonly Side[] = isMirrored(wing) ? ["left"] : SIDES;
  const hung = sides.map((side) => {
    const members = riggedMembers(cascade, side);
    const tree = lineTree(members);
    return { members, tree, room: roomFor(tree) };
  });
  const assumed = assumedSplit(wing);
  let divided = TYPICAL_SPLIT;
  const divide = (split: Split): void => {
    if (split.rise === divided.rise && split.middle === divided.middle) return;
    divided = split;
    const lengths = assumed.lengthsM(split);
    for (const { members, tree } of hung)
      members.forEach(({ lineKey, lengthM }, m) => {
        const length = lengths.get(lineKey ?? "");
        if (lineKey === undefined || length === undefined) return;
        tree.lengthM[m] = lengthM + length - (cascade.lineOf.get(lineKey)?.lengthM ?? 0);
      });
  };
  const counted = wing.tabs.flatMap((tab, i) => (tab.row !== "brake" && sides.includes(tab.side) ? [i] : []));
  const misfitM = new Float64Array(wing.tabs.length);
  const shares = new Float64Array(wing.tabs.length);
  const positions = new Float64Array(3 * wing.tabs.length);
  const loads = new Float64Array(3 * wing.tabs.length);
  const placed = stations.flatMap((station, s) =>
    sides.includes(station.side) && station.tabs.some((tab) => tab.row !== "brake")
      ? [
          {
            sigma: station.sigma,
            width: tributaryWidth(stations, s),
            tabs: station.tabs.filter((tab) => tab.row !== "brake"),
          },
        ]
      : [],
  );
  let shared = false;
  const frames = ribFrames(placed.map(({ sigma }) => sigma));
  const tipBank = rememberedTipBank();
  return {
    counted,
    misfitM,
    shares,
    inCommon: assumed.any ? assumed.pathsPerTree : 1,
    misfits(values) {
      const outline = outlineOf(values, tipBank);
      const [dx, , dz] = offsetOf(values, outline);
      for (const [p, frame] of frames.at(outline).entries()) {
        const { width, tabs } = placed[p] as (typeof placed)[number];
        const area = width * frame.chordM;
        for (const tab of tabs) {
          const fraction = fractionOf(tab, values);
          const point = pointOnRib(frame, fraction, sectionHeight(fraction, "lower"));
          const t = 3 * tab.tab;
          positions[t] = point[0] + dx;
          positions[t + 1] = point[1];
          positions[t + 2] = point[2] + dz;
          const load = area * (shares[tab.tab] as number);
          for (let a = 0; a < 3; a++) loads[t + a] = load * (frame.normal[a] as number);
        }
      }
      if (assumed.any) divide(splitOf(values));
      for (const { tree, room } of hung) hangLines(tree, positions, loads, room, misfitM);
      return outline;
    },
    shareLoads(values) {
      if (shared && moved.size === 0) return;
      shared = true;
      shareAlongChord(stations, values, shares);
    },
  };
}

/** Tabs that come to lie at one place are taken this far apart [chords]. */
const APART = 1e-3;

function shareAlongChord(stations: readonly Station[], values: Values, shares: Float64Array): void {
  const known = new Map<string, number[]>();
  for (const station of stations) {
    const loaded = station.tabs
      .filter((tab) => tab.row !== "brake")
      .map((tab) => ({ tab: tab.tab, fraction: fractionOf(tab, values) }))
      .sort((a, b) => a.fraction - b.fraction);
    if (loaded.length === 0) continue;
    const fractions: number[] = [];
    for (const { fraction } of loaded)
      fractions.push(Math.max(fraction, (fractions.at(-1) ?? Number.NEGATIVE_INFINITY) + APART));
    const key = fractions.join();
    const ofRib = known.get(key) ?? chordShares(fractions);
    known.set(key, ofRib);
    loaded.forEach(({ tab }, i) => {
      shares[tab] = ofRib[i] as number;
    });
  }
}

/** Whether the right side's lines and tabs are the left's over again. */
export function isMirrored(wing: Wing): boolean {
  const lines = new Map(wing.lines.map((line) => [line.key, line]));
  const tabs = new Map(wing.tabs.map((tab) => [tab.key, tab]));
  const across = (key: string | undefined): string | undefined => lines.get(key ?? "")?.mirrorKey;
  const left = wing.lines.filter((line) => line.side === "left");
  const leftTabs = wing.tabs.filter((tab) => tab.side === "left");
  if (2 * left.length !== wing.lines.length || 2 * leftTabs.length !== wing.tabs.length) return false;
  const alike = left.every((line) => {
    const other = lines.get(line.mirrorKey ?? "");
    if (other === undefined) return false;
    const on = line.hangsOn;
    const otherOn = other.hangsOn;
    const sameAnchor =
      on.kind === "line"
        ? otherOn.kind === "line" && across(on.lineKey) === otherOn.lineKey
        : on.kind === otherOn.kind &&
          (on.kind === "pulley" || (otherOn.kind === "maillon" && on.maillonId === otherOn.maillonId));
    return sameAnchor && line.lengthM === other.lengthM && line.loopTakeUpM === other.loopTakeUpM;
  });
  return (
    alike &&
    leftTabs.every((tab) => {
      const other = tabs.get(tab.mirrorKey ?? "");
      return (
        other !== undefined &&
        other.rib === tab.rib &&
        other.row === tab.row &&
        other.chordFraction === tab.chordFraction &&
        other.lineKey === across(tab.lineKey)
      );
    })
  );
}
