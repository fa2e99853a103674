/** What a loop plan leaves: each path with its uncertainty, held against the wing's tolerances; what loops can't reach; and the reserve. */
import type { Assessment } from "../diagnosis/assess.ts";
import { assess } from "../diagnosis/assess.ts";
import type { Attribution } from "../diagnosis/attribution.ts";
import { cautionFull } from "../diagnosis/caution.ts";
import type { DecisionRule } from "../diagnosis/conformity.ts";
import { plainMm, signedMm, wayOf } from "../diagnosis/wording.ts";
import { ROWS, type Row, SIDES, type Wing } from "../plan/model.ts";
import type { Deviations } from "../readings/model.ts";
import type { PathUncertainties } from "../readings/uncertainty.ts";
import { say } from "../words/index.ts";
import { type Unreachable, unreachablePaths } from "./loop-limits.ts";
import type { LineLoops, LoopChange, LoopChoices, LoopPlan, LoopState } from "./model.ts";
import { lineName } from "./wording.ts";

export interface PathAfter {
  readonly tabKey: string;
  /** As read [m]. */
  readonly presentM: number;
  /** What the plan's change of loop does to it [m]. */
  readonly changeM: number;
  /** What it is expected to be off by then, counted from the shared part where that is free [m]. */
  readonly predictedM: number;
  /** Of the reading and of the take-ups together [m]. */
  readonly standardUncertaintyM: number;
}

/** What take-up a row's lines keep, to be taken out as they shrink further. */
export interface RowReserve {
  readonly row: Row;
  readonly lines: number;
  readonly meanM: number;
  readonly leastM: number;
  /** Lines that have no looser state left. */
  readonly used: readonly string[];
  readonly sentence: string;
}

export interface LoopReport {
  /** As it should be read after the work, less the shared part where that is free; brakes are as read. */
  readonly predicted: Deviations;
  readonly uncertainties: PathUncertainties;
  readonly assessment: Assessment;
  /** Paths that were read, in the wing's order. */
  readonly paths: readonly PathAfter[];
  readonly unreachable: readonly Unreachable[];
  /** The same in words, the brakes' paths of a side in one sentence. */
  readonly sentences: readonly string[];
  /** What follows from it, for the wing as a whole. */
  readonly followUp: readonly string[];
  readonly reserve: readonly RowReserve[];
  /** What the plan does, in one or two sentences. */
  readonly summary: string;
  /** To be shown with all of this. */
  readonly cautions: readonly string[];
}

export interface ReportQuestion {
  readonly wing: Wing;
  readonly deviations: Deviations;
  readonly uncertainties: PathUncertainties;
  readonly loops: readonly LineLoops[];
  readonly choices: LoopChoices;
  readonly plan: LoopPlan;
  /** Tells which line is out where several may be. */
  readonly attribution?: Attribution | undefined;
  readonly rule?: DecisionRule | undefined;
}

/**
 * Report on a plan.
 *
 * @throws Error where uncertainties, deviations and loops don't belong together
 */
export function loopReport(question: ReportQuestion): LoopReport {
  const { wing, deviations, loops, choices, plan } = question;
  const predicted = predictedDeviations(deviations, loops, choices, plan);
  const uncertainties = withTakeUps(question.uncertainties, loops, plan.changes);
  const changeAt = changesByTab(loops, plan.changes);
  const unreachable = unreachablePaths({ ...question, predicted });
  return {
    predicted,
    uncertainties,
    assessment: assess(wing, predicted, uncertainties, question.rule),
    paths: deviations.paths.flatMap(({ tabKey, deviationM }, tab) =>
      deviationM === undefined
        ? []
        : [
            {
              tabKey,
              presentM: deviationM,
              changeM: changeAt.get(tab)?.changeM ?? 0,
              predictedM: predicted.paths[tab]?.deviationM as number,
              standardUncertaintyM: uncertainties.totalM[tab] as number,
            },
          ],
    ),
    unreachable,
    sentences: sentencesOf(unreachable),
    followUp: followUpOf(unreachable),
    reserve: reserveOf(wing, loops, plan.changes),
    summary: summaryOf(wing, choices, plan),
    cautions: cautionFull(),
  };
}

function changesByTab(loops: readonly LineLoops[], changes: readonly LoopChange[]): Map<number, LoopChange> {
  const changeOf = new Map(changes.map((change) => [change.lineKey, change]));
  return new Map(
    loops.flatMap((line) => {
      const change = changeOf.get(line.lineKey);
      return change === undefined ? [] : line.tabs.map((tab) => [tab, change] as const);
    }),
  );
}

/** Deviations as they should be read after the changes, less the shared part where it is free (brakes keep it). */
export function predictedDeviations(
  deviations: Deviations,
  loops: readonly LineLoops[],
  choices: Pick<LoopChoices, "uniformFree">,
  plan: LoopPlan,
): Deviations {
  const changeAt = changesByTab(loops, plan.changes);
  return {
    ...deviations,
    paths: deviations.paths.map((path, tab) => {
      if (path.deviationM === undefined || path.measuredM === undefined) return path;
      const sharedM = choices.uniformFree && path.row !== "brake" ? plan.sharedM : 0;
      const byM = (changeAt.get(tab)?.changeM ?? 0) - sharedM;
      return { ...path, measuredM: path.measuredM + byM, deviationM: path.deviationM + byM };
    }),
  };
}

/**
 * Uncertainties of the predicted deviations: those of the readings, and what the changed take-ups add. Of a change's variance
 * half is taken to be the same for all changes between the same two loops (the table's error), half each line's own (how
 * snugly it was tied); an assumption, no source. Of a single path the sum is the whole either way.
 */
export function withTakeUps(
  readings: PathUncertainties,
  loops: readonly LineLoops[],
  changes: readonly LoopChange[],
): PathUncertainties {
  const changeAt = changesByTab(loops, changes);
  const loadings = new Map<string, Float64Array>();
  for (const [tab, change] of changeAt) {
    if (readings.read[tab] !== 1 || change.standardUncertaintyM === 0) continue;
    const halfM = change.standardUncertaintyM / Math.SQRT2;
    // Tying a loop and taking it out are off by the same figure, the other way round.
    const [less, more] =
      change.from.takeUpM < change.to.takeUpM ? [change.from, change.to] : [change.to, change.from];
    const sign = change.changeM < 0 ? -1 : 1;
    const byMm = Math.abs(change.changeM * 1000).toFixed(2);
    const table = `take-up ${less.kind.id} to ${more.kind.id} ${byMm}`;
    for (const [name, loadingM] of [
      [table, sign * halfM],
      [`loop ${change.lineKey}`, halfM],
    ] as const) {
      const known = loadings.get(name) ?? new Float64Array(readings.tabKeys.length);
      known[tab] = loadingM;
      loadings.set(name, known);
    }
  }
  return {
    ...readings,
    effects: [...readings.effects, ...[...loadings].map(([name, loadingsM]) => ({ name, loadingsM }))],
    totalM: readings.totalM.map((totalM, tab) =>
      readings.read[tab] === 1 ? Math.hypot(totalM, changeAt.get(tab)?.standardUncertaintyM ?? 0) : totalM,
    ),
  };
}

function reserveOf(wing: Wing, loops: readonly LineLoops[], changes: readonly LoopChange[]): RowReserve[] {
  const endOf = new Map(changes.map((change) => [change.lineKey, change.to]));
  const lineOf = new Map(wing.lines.map((line) => [line.key, line]));
  return ROWS.flatMap((row) => {
    const lines = loops.filter((line) => line.row === row && row !== "brake");
    if (lines.length === 0) return [];
    const takeUpsM = lines.map(
      (line) => (endOf.get(line.lineKey) ?? (line.states[line.present] as LoopState)).takeUpM,
    );
    const used = lines.filter((line, i) =>
      line.states.every((state) => state.takeUpM >= (takeUpsM[i] as number)),
    );
    const meanM = takeUpsM.reduce((sum, takeUpM) => sum + takeUpM, 0) / lines.length;
    const leastM = Math.min(...takeUpsM);
    const names = used.map((line) =>
      lineName({ id: lineOf.get(line.lineKey)?.id ?? line.lineKey, side: line.side }),
    );
    return [
      {
        row,
        lines: lines.length,
        meanM,
        leastM,
        used: used.map((line) => line.lineKey),
        sentence:
          used.length === lines.length
            ? say("workshop.reserve.none", { row })
            : say("workshop.reserve.some", {
                row,
                mean: plainMm(meanM),
                least: plainMm(leastM),
                used: names.length,
                names: names.join(", "),
              }),
      },
    ];
  });
}

function summaryOf(wing: Wing, choices: LoopChoices, plan: LoopPlan): string {
  const { changes, rmsM, worstM, beyond, sharedM } = plan;
  const left = say("workshop.report.summary", {
    changes: changes.length,
    rms: plainMm(rmsM, 1),
    worst: plainMm(worstM, 1),
    beyond,
    tolerance: plainMm(wing.tolerances.pathM),
  });
  if (!choices.uniformFree || Math.abs(sharedM) < 0.0005) return left;
  return `${left} ${say("workshop.report.shared", { shared: signedMm(sharedM) })}`;
}

function sentencesOf(unreachable: readonly Unreachable[]): string[] {
  const brakes = unreachable.filter((path) => path.reason === "brake");
  const ofSide = SIDES.flatMap((side) => {
    const paths = brakes.filter((path) => path.side === side);
    const [one] = paths;
    if (one === undefined) return [];
    if (paths.length === 1) return [one.sentence];
    const worst = paths.reduce((a, b) => (Math.abs(b.predictedM) > Math.abs(a.predictedM) ? b : a));
    return [
      say("workshop.report.brakes", {
        count: paths.length,
        side,
        worst: worst.name,
        by: signedMm(worst.predictedM),
      }),
    ];
  });
  return [...unreachable.filter((path) => path.reason !== "brake").map((path) => path.sentence), ...ofSide];
}

/** What the unreached paths mean together, with the lines to be replaced in pairs. */
function followUpOf(unreachable: readonly Unreachable[]): string[] {
  const follow: string[] = [];
  const lines = [...new Set(unreachable.flatMap((path) => path.replaceNames))];
  if (lines.length > 0) follow.push(say("workshop.report.replace", { lines: lines.join(", ") }));
  const out = unreachable.filter((path) => path.reason === "too short" || path.reason === "too long");
  if (out.length > 0)
    follow.push(
      say("workshop.report.run-out", {
        paths: out
          .map(({ name, predictedM }) => say("workshop.report.out", { path: name, way: wayOf(predictedM) }))
          .join(", "),
      }),
    );
  return follow;
}
