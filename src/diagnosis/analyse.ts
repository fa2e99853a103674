/** From a wing and a check to the whole answer. The command line, the worker and the tests call this one function. */

import { type BuildOptions, buildWingModel } from "../geometry/build.ts";
import type { WingModel } from "../geometry/model.ts";
import { profileChange } from "../geometry/profile.ts";
import { solveWing, wingStructure } from "../geometry/solve.ts";
import type { Row, Wing } from "../plan/model.ts";
import { deviations as deviationsOf } from "../readings/deviations.ts";
import type { Check, Deviations } from "../readings/model.ts";
import type { ReadingUncertainty } from "../readings/reading-uncertainty.ts";
import { readingUncertainty } from "../readings/uncertainty.ts";
import { say } from "../words/index.ts";
import { assess } from "./assess.ts";
import { attributeChanges } from "./attribution.ts";
import { incidenceMeans, meanIncidence } from "./chord-mean.ts";
import type { DecisionRule } from "./conformity.ts";
import { findingsOf } from "./findings.ts";
import type { Analysis, LineDeviation } from "./model.ts";
import { mean, summariseRows } from "./rows.ts";
import { uniformValue, withoutUniform } from "./uniform.ts";

export interface AnalyseOptions extends BuildOptions {
  /** A model of the same wing, built before. */
  readonly model?: WingModel;
  /** What the user knows of the readings' uncertainty better than the check says. */
  readonly reading?: Partial<ReadingUncertainty>;
  readonly rule?: DecisionRule;
  /** Take the part that all main rows share out of every main path, as if the measuring point were off by it. */
  readonly removeUniform?: boolean;
  /** Told what is being done, and how much of it is done, 0 to 1. */
  readonly onProgress?: (step: string, fraction: number) => void;
}

export function analyse(wing: Wing, check?: Check, options: AnalyseOptions = {}): Analysis {
  const report = options.onProgress ?? (() => {});
  report(say("diagnosis.progress.fit"), 0);
  const model = options.model ?? buildWingModel(wing, options);
  const asRead = check ? deviationsOf(wing, check) : unmeasured(wing);
  const uniformM = uniformValue(asRead);
  const uniformRemoved = options.removeUniform === true && uniformM !== undefined;
  const deviations = uniformRemoved ? withoutUniform(asRead, { valueM: uniformM }) : asRead;
  if (
    !check ||
    (!deviations.paths.some((path) => path.deviationM !== undefined) && deviations.lines.length === 0)
  ) {
    report(say("diagnosis.progress.done"), 1);
    return {
      wing,
      check,
      deviations,
      lines: lineDeviations(wing, deviations, new Map()),
      rows: summariseRows(wing, deviations, () => undefined),
      findings: [],
      model,
      measured: undefined,
      ribs: [],
      meanIncidenceRad: undefined,
      leftIncidenceRad: undefined,
      rightIncidenceRad: undefined,
    };
  }
  report(say("diagnosis.progress.solve"), 0.6);
  const structure = wingStructure(model);
  const changes = attributeChanges(wing, deviations);
  const measured = solveWing(model, changes, model.specified, structure);
  const ribs = profileChange(model, model.specified, measured);
  report(say("diagnosis.progress.rows"), 0.75);
  const rowOf = new Map(wing.lines.map((line) => [line.key, line.row]));
  const aloneM = (row: Row): number | undefined => {
    const only = new Map([...changes].filter(([key]) => rowOf.get(key) === row));
    return meanIncidence(
      model,
      profileChange(model, model.specified, solveWing(model, only, model.specified, structure)),
    );
  };
  const rows = summariseRows(wing, deviations, aloneM);
  const known = { rows, ...incidenceMeans(model, ribs) };
  report(say("diagnosis.progress.readings"), 0.9);
  const uncertainties = readingUncertainty(wing, check, deviations, options.reading);
  const assessment = assess(wing, deviations, uncertainties, options.rule);
  const findings = findingsOf(wing, deviations, known, uncertainties);
  report(say("diagnosis.progress.done"), 1);
  return {
    wing,
    check,
    deviations,
    lines: lineDeviations(wing, deviations, changes),
    findings,
    uncertainties,
    assessment,
    uniformM,
    uniformRemoved,
    model,
    measured,
    ribs,
    ...known,
  };
}

function unmeasured(wing: Wing): Deviations {
  return {
    paths: wing.paths.map((path) => ({
      tabKey: path.tabKey,
      side: path.side,
      row: path.row,
      specifiedM: path.specifiedM,
      measuredM: undefined,
      deviationM: undefined,
      repeats: 0,
      repeatSpreadM: undefined,
    })),
    lines: [],
  };
}

/** The deviation that each line is coloured by, and how it's known. */
function lineDeviations(
  wing: Wing,
  deviations: Deviations,
  changes: ReadonlyMap<string, number>,
): LineDeviation[] {
  const own = new Map(deviations.lines.map((reading) => [reading.lineKey, reading.deviationM]));
  const through = new Map<string, number[]>();
  wing.paths.forEach((path, tab) => {
    const deviation = deviations.paths[tab]?.deviationM;
    if (deviation === undefined) return;
    for (const key of path.lineKeys) through.set(key, [...(through.get(key) ?? []), deviation]);
  });
  return wing.lines.map((line) => {
    const attributedM = changes.get(line.key) ?? 0;
    const alone = own.get(line.key);
    if (alone !== undefined) return { lineKey: line.key, basis: "line", deviationM: alone, attributedM };
    const paths = through.get(line.key) ?? [];
    if (paths.length === 0)
      return { lineKey: line.key, basis: "not measured", deviationM: undefined, attributedM };
    const atTab = line.carriesLines.length === 0 && line.carriesTabs.length === 1;
    return { lineKey: line.key, basis: atTab ? "path" : "paths above", deviationM: mean(paths), attributedM };
  });
}
