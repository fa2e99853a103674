/**
 * The wing's states under one rigging: as specified, as measured and as tried, each solved.
 *
 * A session keeps what every solve needs; a solve starts from the states before it, so that a small step costs little.
 */
import { AT_TRIM, type Condition, underCondition } from "../geometry/condition.ts";
import type { Equilibrium, RibChange, WingModel } from "../geometry/model.ts";
import { profileChange } from "../geometry/profile.ts";
import { changedLengths, solveWing, wingStructure } from "../geometry/solve.ts";
import type { NetworkStructure } from "../geometry/structure.ts";
import { mean } from "./average.ts";
import { type BrakeTravel, brakeTravel } from "./brake-travel.ts";
import { incidenceMeans } from "./chord-mean.ts";
import type { Analysis, LineDeviation } from "./model.ts";
import { summariseRows } from "./rows.ts";

export interface Session {
  readonly model: WingModel;
  readonly structure: NetworkStructure;
  /** Line key → change that makes the paths come out as measured [m]; undefined without readings. */
  readonly changes: ReadonlyMap<string, number> | undefined;
  /** Measured at trim, where it has been solved. */
  readonly measured: Equilibrium | undefined;
  /** The plan's free travel of the brakes [m]; undefined where it has no brakes. */
  readonly freeTravelM: number | undefined;
  /** What a check after the work found; left out where there is none. */
  readonly after?: Pick<Session, "changes" | "measured">;
}

/** What is asked of a session. */
export interface StatesQuestion {
  readonly condition: Condition;
  /** Line key → change on top of the measured (without readings: the specified) length [m]. */
  readonly trial: ReadonlyMap<string, number>;
}

/** Plain data, may cross a worker's boundary. */
export interface States {
  readonly condition: Condition;
  readonly specified: Equilibrium;
  /** Undefined without readings. */
  readonly measured: Equilibrium | undefined;
  /** Undefined where nothing is tried. */
  readonly tried: Equilibrium | undefined;
  /** Specified → measured, both under the condition. */
  readonly ribs: readonly RibChange[];
  /** Specified → tried, both under the condition. */
  readonly triedRibs: readonly RibChange[] | undefined;
  /** Specified at the reference setting → specified under the condition. */
  readonly conditionRibs: readonly RibChange[];
  /** As a check after the work found it, and specified → that, both under the condition; left out where there is no such check. */
  readonly after?: {
    readonly solved: Equilibrium;
    readonly ribs: readonly RibChange[];
    readonly travel: BrakeTravel;
  };
  readonly travel: {
    readonly specified: BrakeTravel;
    readonly measured: BrakeTravel | undefined;
    readonly tried: BrakeTravel | undefined;
  };
}

/**
 * A session on an analysis; its measured state is taken over.
 *
 * @param after the analysis of a check after the work, on the same wing's model
 */
export function openSession(analysis: Analysis, after?: Analysis): Session {
  return {
    model: analysis.model,
    structure: wingStructure(analysis.model),
    ...foundBy(analysis),
    freeTravelM: analysis.wing.brakes?.freeTravelM,
    ...(after?.measured === undefined ? {} : { after: foundBy(after) }),
  };
}

function foundBy(analysis: Analysis): Pick<Session, "changes" | "measured"> {
  const changes = new Map<string, number>();
  for (const line of analysis.lines) if (line.attributedM !== 0) changes.set(line.lineKey, line.attributedM);
  return { changes: analysis.measured === undefined ? undefined : changes, measured: analysis.measured };
}

/**
 * The states of an analysis as it comes: at trim, nothing tried; nothing is solved.
 *
 * @param after as {@link openSession} takes it
 */
export function statesAtTrim(analysis: Analysis, after?: Analysis): States {
  const { model, measured } = analysis;
  const freeTravelM = analysis.wing.brakes?.freeTravelM;
  const travel = (of: Analysis): BrakeTravel | undefined =>
    of.measured === undefined
      ? undefined
      : travelOf({ model, freeTravelM }, foundBy(of).changes ?? new Map(), AT_TRIM, of.measured);
  return {
    condition: AT_TRIM,
    specified: model.specified,
    measured,
    tried: undefined,
    ribs: analysis.ribs,
    triedRibs: undefined,
    conditionRibs: profileChange(model, model.specified, model.specified),
    travel: {
      specified: travelOf({ model, freeTravelM }, new Map(), AT_TRIM, model.specified),
      measured: travel(analysis),
      tried: undefined,
    },
    ...(after?.measured === undefined
      ? {}
      : { after: { solved: after.measured, ribs: after.ribs, travel: travel(after) ?? {} } }),
  };
}

/**
 * Solve the states that a question asks for.
 *
 * @param last the states before, to start from; what its condition already answers isn't solved again. It must come from
 *   the same session.
 * @throws RangeError where the condition or a trial can't be: an unknown line or riser, or a line left without length
 */
export function solveStates(session: Session, question: StatesQuestion, last?: States): States {
  const { model, structure, changes } = session;
  const { condition, trial } = question;
  const solve = (lengths: ReadonlyMap<string, number>, warm: Equilibrium): Equilibrium =>
    solveWing(model, lengths, warm, structure, condition);
  const trim = sameCondition(condition, AT_TRIM);
  const kept = last !== undefined && sameCondition(condition, last.condition) ? last : undefined;

  const specified =
    kept?.specified ??
    (trim ? model.specified : solve(new Map(), last?.specified.converged ? last.specified : model.specified));
  const measured =
    changes === undefined
      ? undefined
      : (kept?.measured ??
        (trim && session.measured !== undefined
          ? session.measured
          : solve(
              changes,
              last?.measured?.converged ? last.measured : (session.measured ?? model.specified),
            )));
  const lengths = added(changes ?? new Map(), trial);
  const { after } = session;
  const solveAfter = (): States["after"] => {
    if (after?.changes === undefined) return undefined;
    const solved =
      trim && after.measured !== undefined
        ? after.measured
        : solve(
            after.changes,
            last?.after?.solved.converged ? last.after.solved : (after.measured ?? specified),
          );
    return {
      solved,
      ribs: profileChange(model, specified, solved),
      travel: travelOf(session, after.changes, condition, solved),
    };
  };
  const asAfter = kept?.after ?? solveAfter();
  const tried =
    trial.size === 0
      ? undefined
      : solve(lengths, last?.tried?.converged ? last.tried : (measured ?? specified));
  return {
    condition,
    specified,
    measured,
    tried,
    ribs: measured === undefined ? [] : (kept?.ribs ?? profileChange(model, specified, measured)),
    triedRibs: tried === undefined ? undefined : profileChange(model, specified, tried),
    conditionRibs: kept?.conditionRibs ?? profileChange(model, model.specified, specified),
    travel: {
      specified: kept?.travel.specified ?? travelOf(session, new Map(), condition, specified),
      measured:
        measured === undefined || changes === undefined
          ? undefined
          : (kept?.travel.measured ?? travelOf(session, changes, condition, measured)),
      tried: tried === undefined ? undefined : travelOf(session, lengths, condition, tried),
    },
    ...(asAfter === undefined ? {} : { after: asAfter }),
  };
}

/** The analysis of a check after the work with its solved part taken from the states. */
export function afterAnalysisOf(after: Analysis, states: States): Analysis {
  if (states.after === undefined) return after;
  const model = { ...after.model, specified: states.specified };
  const { solved: measured, ribs } = states.after;
  return { ...after, model, measured, ribs, ...incidenceMeans(model, ribs) };
}

/**
 * An analysis with its solved part taken from the states: the measured wing under the condition, or the wing as tried, whose
 * deviations are those measured plus what is tried. The findings stay those of the readings.
 */
export function analysisOf(
  analysis: Analysis,
  states: States,
  as: "measured" | "tried",
  trial: ReadonlyMap<string, number>,
): Analysis {
  const model = { ...analysis.model, specified: states.specified };
  if (as === "measured" || states.tried === undefined)
    return {
      ...analysis,
      model,
      measured: states.measured,
      ribs: states.ribs,
      ...incidenceMeans(model, states.ribs),
    };
  const ribs = states.triedRibs ?? [];
  const unread = analysis.measured === undefined;
  const { wing } = analysis;
  const paths = analysis.deviations.paths.map((path, tab) => {
    const change = (wing.paths[tab]?.lineKeys ?? []).reduce((sum, key) => sum + (trial.get(key) ?? 0), 0);
    const deviationM = unread ? change : path.deviationM === undefined ? undefined : path.deviationM + change;
    return {
      ...path,
      deviationM,
      measuredM: deviationM === undefined ? undefined : path.specifiedM + deviationM,
    };
  });
  const single = analysis.deviations.lines.map((line) => {
    const change = trial.get(line.lineKey) ?? 0;
    return { ...line, deviationM: line.deviationM + change, measuredM: line.measuredM + change };
  });
  const deviations = { paths, lines: single };
  const through = new Map<string, number[]>();
  wing.paths.forEach((path, tab) => {
    const deviation = paths[tab]?.deviationM;
    if (deviation === undefined) return;
    for (const key of path.lineKeys) through.set(key, [...(through.get(key) ?? []), deviation]);
  });
  const lines = analysis.lines.map((line): LineDeviation => {
    const change = trial.get(line.lineKey) ?? 0;
    const attributedM = line.attributedM + change;
    if (line.basis === "line" && line.deviationM !== undefined)
      return { ...line, attributedM, deviationM: line.deviationM + change };
    // Plain, as in the readings' analysis: few paths, and a line has the colour of all that was read through it.
    const above = through.get(line.lineKey) ?? [];
    return { ...line, attributedM, deviationM: above.length === 0 ? undefined : mean(above) };
  });
  return {
    ...analysis,
    model,
    deviations,
    lines,
    rows: summariseRows(wing, deviations, () => undefined),
    measured: states.tried,
    ribs,
    ...incidenceMeans(model, ribs),
  };
}

/** Whether two conditions rig and load the wing alike. */
export function sameCondition(a: Condition, b: Condition): boolean {
  const straps = new Set([...a.strapChangesM.keys(), ...b.strapChangesM.keys()]);
  return (
    a.weightN === b.weightN &&
    a.brakePullM.left === b.brakePullM.left &&
    a.brakePullM.right === b.brakePullM.right &&
    [...straps].every((riser) => (a.strapChangesM.get(riser) ?? 0) === (b.strapChangesM.get(riser) ?? 0))
  );
}

function travelOf(
  { model, freeTravelM }: Pick<Session, "model" | "freeTravelM">,
  changes: ReadonlyMap<string, number>,
  condition: Condition,
  state: Equilibrium,
): BrakeTravel {
  if (freeTravelM === undefined) return {};
  const { unstretched } = underCondition(model, changedLengths(model, changes), condition);
  return brakeTravel(model, unstretched, state, freeTravelM);
}

function added(a: ReadonlyMap<string, number>, b: ReadonlyMap<string, number>): Map<string, number> {
  const sum = new Map(a);
  for (const [key, value] of b) sum.set(key, (sum.get(key) ?? 0) + value);
  return sum;
}
