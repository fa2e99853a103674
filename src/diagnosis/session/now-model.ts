/** What a tab or line should read, going by the plan, by what was read up to now, and by the check before if there is one. */
import type { Line, Wing } from "../../plan/model.ts";
import { expectedReadingM } from "../../readings/corrections.ts";
import { deviations } from "../../readings/deviations.ts";
import type { CheckFrame } from "../../readings/frame.ts";
import { lookUp, type WingLookup } from "../../readings/lookup.ts";
import type { Check, Target } from "../../readings/model.ts";
import { keyOfTarget, type SoFar } from "../../readings/session/model.ts";
import { type Expectation, expect, expectedReadingAt } from "../mistakes/expectation.ts";
import { deviationsAt, groupOf, type Layout, layOut } from "../mistakes/layout.ts";
import { laplace, logHonestOne, NO_BLUNDER } from "../mistakes/plausible.ts";
import { fittedAt } from "../mistakes/row-fit.ts";
import { mean, median } from "../rows.ts";

/** One way that an honest reading may come about; `tail`: off by more than scatter, exponentially. */
export interface Part {
  readonly weight: number;
  /** Reading to be expected [m]. */
  readonly valueM: number;
  readonly sigmaM: number;
  readonly tail: { readonly share: number; readonly scaleM: number };
}

export interface NowModel {
  readonly expectation: Expectation;
  /** Index of the target among the tabs; undefined for a line. */
  readonly tab: number | undefined;
  /** The likeliest value first. */
  readonly parts: readonly Part[];
}

/**
 * How open a row's level is before and after its first readings (common practice, no source): it may have shrunk by centimetres,
 * its other side tells most of it, and the brakes are set by hand [m].
 */
const UNREAD = { share: 0.1, scaleM: 0.04 };
const UNREAD_BRAKE = { share: 0.5, scaleM: 0.06 };
const MIRROR_READ = { share: 0.05, scaleM: 0.02 };
const FIRST_READ = { share: 0.05, scaleM: 0.01 };
const NONE = { share: 0, scaleM: 0.01 };
/** A lower line of which nothing is read yet may be off with all its tabs, by a wrong loop. */
const UNREAD_LINE = { share: 0.03, scaleM: 0.012 };
/** Weight of the tale that a tab is off as those on the same lower line are. */
const LIKE_LINE = 0.1;
/** How much a single line's change differs from its row's, besides scatter [m]. */
const LINE_SIGMA = 0.0025;
const LINE_TAIL = { share: 0.1, scaleM: 0.02 };
/** Half each: the wing is as it was at the check before but for even changes, or that check says nothing of single lines. */
const AS_BEFORE = 0.5;

export interface Before {
  /** Deviation of each tab at the check before, in the wing's order; its row's median where it wasn't read [m]. */
  readonly shiftM: readonly number[];
}

export function beforeOf(wing: Wing, last: Check | undefined): Before | undefined {
  if (last === undefined) return undefined;
  const { paths } = deviations(wing, last);
  const usual = new Map<string, number | undefined>();
  for (const { side, row } of paths) {
    const known = paths.flatMap((path) =>
      path.side === side && path.row === row && path.deviationM !== undefined ? [path.deviationM] : [],
    );
    usual.set(groupOf(side, row), median(known));
  }
  return { shiftM: paths.map((path) => path.deviationM ?? usual.get(groupOf(path.side, path.row)) ?? 0) };
}

/** A wing's tabs under a check's conditions, without readings: made once for a frame. */
export function emptyLayout(wing: Wing, frame: CheckFrame): Layout {
  return layOut(wing, { ...frame, readings: [] });
}

/** The model of one target; undefined where the wing has no such tab or line. */
export function modelNow(
  empty: Layout,
  soFar: SoFar,
  target: Target,
  before: Before | undefined,
): NowModel | undefined {
  const own = keyOfTarget(target);
  const byKey = new Map(soFar.readings.map((reading) => [keyOfTarget(reading.target), reading.valuesM]));
  const valuesM = empty.places.map(({ target: other }) => {
    const key = keyOfTarget(other);
    return key === own ? [] : (byKey.get(key) ?? []);
  });
  const layout: Layout = { ...empty, check: { ...soFar.frame, readings: [] }, valuesM };
  const expectation = expect(layout);
  if (target.kind === "line") {
    const parts = lineParts(expectation, target);
    return parts && { expectation, tab: undefined, parts };
  }
  const tab = layout.places.findIndex((place) => keyOfTarget(place.target) === own);
  if (tab < 0) return undefined;
  const parts = tabParts(expectation, tab);
  if (before === undefined) return { expectation, tab, parts };
  const moved: Layout = {
    ...layout,
    places: layout.places.map((place, i) => ({
      ...place,
      shouldReadM: place.shouldReadM + (before.shiftM[i] as number),
    })),
  };
  const since = tabParts(expect(moved), tab).map((part) => ({ ...part, weight: AS_BEFORE * part.weight }));
  const usual = parts.map((part) => ({ ...part, weight: (1 - AS_BEFORE) * part.weight }));
  return { expectation, tab, parts: [...since, ...usual] };
}

function tabParts(expectation: Expectation, tab: number): Part[] {
  const { layout, fits } = expectation;
  const place = layout.places[tab] as Layout["places"][number];
  const fit = fits.get(place.group);
  const valueM = expectedReadingAt(expectation, tab);
  const sigmaM = expectation.sigmaM[tab] as number;
  const mirrorRead = expectation.fits.has(groupOf(place.side === "left" ? "right" : "left", place.row));
  const known = fit?.count ?? 0;
  const unread = place.row === "brake" ? UNREAD_BRAKE : UNREAD;
  let tail = known === 0 ? (mirrorRead ? MIRROR_READ : unread) : known === 1 ? FIRST_READ : NONE;
  // Tabs read on each line below that this one shares: how far they are off what the row suggests.
  const off = place.shared.map((line) =>
    (layout.shared[line] ?? []).flatMap((other) => {
      const residual = residualAt(expectation, other);
      return residual === undefined ? [] : [residual];
    }),
  );
  const isFresh = off.some((residuals) => residuals.length === 0);
  if (isFresh && tail.share < UNREAD_LINE.share) tail = UNREAD_LINE;
  const likeLine = off.flatMap((residuals): Part[] => {
    const middle = median(residuals);
    return middle === undefined || Math.abs(middle) < sigmaM
      ? []
      : [{ weight: LIKE_LINE, valueM: valueM + middle, sigmaM: 1.3 * sigmaM, tail: NONE }];
  });
  return [{ weight: 1 - LIKE_LINE * likeLine.length, valueM, sigmaM, tail }, ...likeLine];
}

/** How far a tab's readings are off the fit of its row, without the steps that the fit found for lines below [m]. */
function residualAt({ layout, fits }: Expectation, tab: number): number | undefined {
  const place = layout.places[tab] as Layout["places"][number];
  const fit = fits.get(place.group);
  const deviation = mean(deviationsAt(layout, tab));
  return fit === undefined || deviation === undefined
    ? undefined
    : deviation - fittedAt(fit, place.along, place.shared);
}

function lineParts(expectation: Expectation, target: Target): Part[] | undefined {
  const { wing, check } = expectation.layout;
  const lookup: WingLookup = lookUp(wing);
  const line = wing.lines.find((one) => one.side === target.side && one.id === target.id);
  const should = expectedReadingM(lookup, target, check);
  if (line === undefined || should === undefined) return undefined;
  const group = groupOf(line.side, line.row);
  const path = wing.paths.find((one) => one.lineKeys.includes(line.key));
  const level = path ? ((expectation.fits.get(group)?.level ?? 0) * line.lengthM) / path.specifiedM : 0;
  const sigmaM = Math.hypot(LINE_SIGMA, expectation.sigmas.get(group) ?? LINE_SIGMA);
  return [{ weight: 1, valueM: should + level, sigmaM, tail: LINE_TAIL }];
}

/** Lines of the same row and tier, and the same line on the other side: what a line may be mistaken for. */
export function linesLike(wing: Wing, target: Target): readonly { line: Line; isMirror: boolean }[] {
  const own = wing.lines.find((one) => one.side === target.side && one.id === target.id);
  if (own === undefined) return [];
  return wing.lines.flatMap((line) => {
    const isMirror = line.key === own.mirrorKey;
    const isBeside = line.side === own.side && line.row === own.row && line.tier === own.tier;
    return line.key !== own.key && !line.lengthAssumed && (isMirror || isBeside) ? [{ line, isMirror }] : [];
  });
}

/** Log-density of an honest reading, no slip made: as its fellows suggest, or the line really is off [1/m]. */
export function logHonestNow(parts: readonly Part[], valueM: number): number {
  let density = 0;
  for (const { weight, valueM: at, sigmaM, tail } of parts) {
    const residual = valueM - at;
    density +=
      weight *
      ((1 - tail.share) * Math.exp(logHonestOne(residual, sigmaM, NO_BLUNDER)) +
        tail.share * laplace(residual, tail.scaleM));
  }
  return Math.log(density + Number.MIN_VALUE);
}
