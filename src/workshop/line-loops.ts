/** Every line that hangs on a maillon, with the states its eye can be in; and what changes of state do to lengths. */
import type { Line, Wing } from "../plan/model.ts";
import { combine, rectangular } from "../readings/gum.ts";
import { BENCH_UNCERTAINTY_M, benchTakeUp } from "./bench.ts";
import type { LoopBook } from "./book.ts";
import { isGiven, LOOP_KINDS, loopKind, PLAIN, specifiedKind } from "./kinds.ts";
import type { LineLoops, LoopChange, LoopKind, LoopState } from "./model.ts";
import { barUncertaintyM, estimateTakeUp, TAKE_UP_ASSUMPTIONS, USUAL_BAR_M } from "./take-up.ts";

/**
 * Standard uncertainty of a plan's figure as it comes out on this line [m]: rounded to a millimetre, and half a
 * millimetre either way in the tying, both rectangular. Assumption, no source.
 */
export const PLAN_UNCERTAINTY_M = Math.hypot(
  rectangular(0.0005),
  rectangular(TAKE_UP_ASSUMPTIONS.snug.halfWidth),
);

const PLAIN_STATE: LoopState = { kind: PLAIN, takeUpM: 0, standardUncertaintyM: 0, source: "estimate" };

/**
 * All lines that hang on a maillon (never those on a pulley), in the wing's order, each with the states that its eye
 * can be in, by rising take-up; the plain eye is the first.
 *
 * What a state takes up is, in this order: for the present loop, what was measured on this very line; for the specified
 * loop, the plan's own figure; what the bench measured on such a bar and line; the geometric estimate. A loop that the
 * plan names with a take-up of 0 though it takes some up (lengths stated with the loop tied) is reckoned as any other,
 * since only differences between states move a path. A kind known by name only is a state where the plan specifies it,
 * the bench measured it, or it is recorded on this line with its take-up.
 *
 * A bar that the plan doesn't give is taken to be a usual one, and said so; it widens the uncertainties. The present
 * state is the one that the book records; where it records none, or one whose take-up isn't known, the specified one.
 */
export function lineLoops(wing: Wing, book: LoopBook): readonly LineLoops[] {
  const maillons = new Map(wing.maillons.map((maillon) => [maillon.id, maillon]));
  const materials = new Map(wing.materials.map((material) => [material.id, material]));
  const tabsAbove = new Map<string, number[]>();
  for (const [index, { lineKeys }] of wing.paths.entries()) {
    const lowest = lineKeys[0] as string;
    tabsAbove.set(lowest, [...(tabsAbove.get(lowest) ?? []), index]);
  }
  const hangsOnMaillon = new Set(
    wing.lines.filter((line) => line.hangsOn.kind === "maillon").map((line) => line.key),
  );
  return wing.lines.flatMap((line): LineLoops[] => {
    if (line.hangsOn.kind !== "maillon") return [];
    const { maillonId } = line.hangsOn;
    const barDiameterM = maillons.get(maillonId)?.barDiameterM;
    const lineDiameterM = materials.get(line.materialId)?.diameterM;
    if (lineDiameterM === undefined) throw new Error(`no material "${line.materialId}" in the wing`);
    const twin =
      line.mirrorKey !== undefined && hangsOnMaillon.has(line.mirrorKey) ? line.mirrorKey : undefined;
    return [
      {
        lineKey: line.key,
        side: line.side,
        row: line.row,
        maillonId,
        mirrorKey: twin,
        ...statesOf(line, book, barDiameterM, lineDiameterM),
        tabs: tabsAbove.get(line.key) ?? [],
        barAssumed: barDiameterM === undefined,
      },
    ];
  });
}

function statesOf(
  line: Line,
  book: LoopBook,
  givenBarM: number | undefined,
  lineDiameterM: number,
): Pick<LineLoops, "states" | "specified" | "present" | "presentRecorded"> {
  const barM = givenBarM ?? USUAL_BAR_M;
  const specified = specifiedKind(line.loopName, line.loopTakeUpM);
  const recordedId = book.present.get(line.key);
  const recorded = recordedId === undefined ? undefined : loopKind(recordedId);

  const takeUpOf = (kind: LoopKind): LoopState | undefined => {
    if (kind.id === PLAIN.id) return PLAIN_STATE;
    const own = kind.id === recorded?.id ? book.presentTakeUpM.get(line.key) : undefined;
    if (own !== undefined)
      return { kind, takeUpM: own, standardUncertaintyM: BENCH_UNCERTAINTY_M, source: "bench" };
    if (kind.id === specified.id && (line.loopTakeUpM !== 0 || isGiven(kind)))
      return { kind, takeUpM: line.loopTakeUpM, standardUncertaintyM: PLAN_UNCERTAINTY_M, source: "plan" };
    const bench = benchTakeUp(book.bench, kind.id, barM, lineDiameterM);
    if (bench !== undefined) {
      // Measured on the bar that this one is only assumed to be.
      const ofBar = givenBarM === undefined ? (Math.PI / 2) * kind.turns * barUncertaintyM(true) : 0;
      return {
        kind,
        takeUpM: bench.takeUpM,
        standardUncertaintyM: Math.hypot(bench.standardUncertaintyM, ofBar),
        source: "bench",
      };
    }
    const estimate = estimateTakeUp(kind, barM, lineDiameterM, givenBarM === undefined);
    return estimate === undefined ? undefined : { kind, ...estimate, source: "estimate" };
  };

  const kinds = new Map([...LOOP_KINDS, specified].map((kind) => [kind.id, kind]));
  for (const kind of [recorded, ...book.bench.map((reading) => loopKind(reading.kindId))])
    if (kind !== undefined) kinds.set(kind.id, kind);
  const states = [...kinds.values()]
    .flatMap((kind) => takeUpOf(kind) ?? [])
    // Of equal take-ups the plain eye first; the others stay as they come.
    .sort(
      (one, other) =>
        one.takeUpM - other.takeUpM || Number(other === PLAIN_STATE) - Number(one === PLAIN_STATE),
    );
  const indexOf = (id: string | undefined): number => states.findIndex((state) => state.kind.id === id);
  const at = indexOf(recorded?.id);
  return {
    states,
    specified: indexOf(specified.id),
    present: at < 0 ? indexOf(specified.id) : at,
    presentRecorded: at >= 0,
  };
}

/**
 * The change of a line's loop from its present state to another one: every path above moves by present take-up less new
 * take-up, so that taking a loop out lengthens. Uncertainties are combined as independent; two estimates share their
 * diameters, which makes the true one smaller. No change has none.
 *
 * @param to index among the line's states
 * @throws RangeError for an index that there isn't
 */
export function loopChange(loops: LineLoops, to: number): LoopChange {
  const from = loops.states[loops.present];
  const target = loops.states[to];
  if (from === undefined || target === undefined)
    throw new RangeError(`Got state ${to} of line ${loops.lineKey}; it has 0 to ${loops.states.length - 1}.`);
  const { standardUncertainty } = combine([
    { sensitivity: 1, uncertainty: from.standardUncertaintyM },
    { sensitivity: -1, uncertainty: target.standardUncertaintyM },
  ]);
  return {
    lineKey: loops.lineKey,
    from,
    to: target,
    changeM: from.takeUpM - target.takeUpM,
    standardUncertaintyM: to === loops.present ? 0 : standardUncertainty,
  };
}

/**
 * Line key → change of the member's length at the reference tension, longer is positive [m]: what a solve takes as its
 * trial. Lines that don't change are left out.
 *
 * @throws RangeError where a line is changed twice
 */
export function lengthChanges(changes: readonly LoopChange[]): Map<string, number> {
  const lengths = new Map<string, number>();
  for (const { lineKey, changeM } of changes) {
    if (lengths.has(lineKey))
      throw new RangeError(`Got two changes of line ${lineKey} when one was expected.`);
    lengths.set(lineKey, changeM);
  }
  for (const [lineKey, changeM] of lengths) if (changeM === 0) lengths.delete(lineKey);
  return lengths;
}
