/** A diagnosis as JSON: lengths in millimetres, angles in degrees, everything that was worked out. */

import type { Assessed, Assessment } from "../diagnosis/assess.ts";
import type { Attribution } from "../diagnosis/attribution.ts";
import type { AngleBand, IncidenceBands, Interval } from "../diagnosis/bands.ts";
import { cautionFull } from "../diagnosis/caution.ts";
import type { Limits } from "../diagnosis/conformance.ts";
import { ruleSentence } from "../diagnosis/conformity.ts";
import type { Judgement } from "../diagnosis/judge.ts";
import type { Correction, Suspicion } from "../diagnosis/mistakes/index.ts";
import type { ReadingGain } from "../diagnosis/next-reading.ts";
import type { PathUncertainties } from "../readings/uncertainty.ts";
import { COVERAGE, uniformUncertainty } from "./diagnose-words.ts";
import type { Diagnosis } from "./diagnosis.ts";
import { rounded } from "./messages.ts";
import { comparedJson, degrees, findingJson, mm } from "./wing-report.ts";

/** `coverage` is the k of every `expandedUncertaintyMm`. Degrees of freedom without bound are null. */
export function diagnosisJson({ analysis, assessment, uncertainties, judgement, check, rule }: Diagnosis) {
  const converged = analysis.measured?.converged === true;
  const about = (kind: Assessed["kind"]) => assessment.assessed.filter((each) => each.kind === kind);
  return {
    format: "linewright-diagnosis",
    version: 1,
    ok: true,
    converged,
    ...comparedJson(analysis, check),
    cautions: cautionFull(),
    coverage: COVERAGE,
    readingUncertainty: uncertaintyJson(uncertainties),
    uniform: {
      valueMm: mm(analysis.uniformM),
      ...doubtJson(uniformUncertainty(analysis)),
      removed: analysis.uniformRemoved === true,
    },
    findings: analysis.findings.map((finding) => ({
      ...findingJson(finding),
      valueMm: mm(finding.valueM),
      ...doubtJson(finding.standardUncertaintyM),
    })),
    decisions: decisionsJson(assessment, rule),
    rowDifferences: about("rows").map((each) => ({
      front: each.rows[0],
      rear: each.rows[1],
      ...valueJson(each),
    })),
    leftLessRight: about("sides").map((each) => ({ row: each.rows[0], ...valueJson(each) })),
    mistakes: judgement.mistakes.map(mistakeJson),
    doubtfulRepeats: uncertainties.doubtfulTabKeys,
    attribution: attributionJson(judgement.attribution),
    nextReadings: {
      sentence: judgement.nextSentence,
      best: judgement.next.best.map(gainJson),
      ranked: judgement.next.ranked.map(gainJson),
    },
    incidence:
      converged && judgement.bands !== undefined
        ? incidenceJson(judgement.bands, judgement.assumptions)
        : null,
  };
}

function doubtJson(standardUncertaintyM: number | undefined) {
  return {
    standardUncertaintyMm: mm(standardUncertaintyM),
    expandedUncertaintyMm: mm(
      standardUncertaintyM === undefined ? undefined : COVERAGE * standardUncertaintyM,
    ),
  };
}

function uncertaintyJson({ settings, scatter, tabKeys, read, totalM }: PathUncertainties) {
  return {
    settings: {
      resolutionMm: mm(settings.resolutionM),
      readingMm: mm(settings.readingM),
      readingDegreesOfFreedom: finite(settings.readingDegreesOfFreedom),
      tensionEachN: settings.tensionEachN,
      tensionCheckN: settings.tensionCheckN,
      zeroMm: mm(settings.zeroM),
      scalePpm: rounded(1e6 * settings.scale, 1),
      stiffness: settings.stiffness,
      rowPointMm: mm(settings.rowPointM),
      sidePointMm: mm(settings.sidePointM),
    },
    scatter: {
      varianceFactor: rounded(scatter.varianceFactor, 4),
      degreesOfFreedom: finite(scatter.degreesOfFreedom),
    },
    pathsMm: Object.fromEntries(
      tabKeys.flatMap((key, tab) => (read[tab] === 1 ? [[key, mm(totalM[tab])]] : [])),
    ),
  };
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? rounded(value, 2) : null;
}

/** A probability to six digits that is never rounded to certainty or to none. */
function share(probability: number): number {
  if (probability <= 0 || probability >= 1) return probability;
  return Math.min(1 - 1e-6, Math.max(1e-6, rounded(probability, 6)));
}

function limitsJson(limits: Limits | undefined) {
  return limits === undefined ? null : { lower: mm(limits.lower), upper: mm(limits.upper) };
}

function decisionsJson(assessment: Assessment, rule: Diagnosis["rule"]) {
  return {
    rule: { ...assessment.rule, name: rule, sentence: ruleSentence(assessment.rule) },
    toleranceNote: assessment.toleranceNote,
    caution: assessment.caution,
    count: {
      conforms: assessment.count.conforms,
      doesNotConform: assessment.count["does not conform"],
      undecided: assessment.count.undecided,
      notRead: assessment.notRead,
    },
    assessed: assessment.assessed.map((each) => ({
      kind: each.kind,
      subject: each.subject,
      rows: each.rows,
      side: each.side ?? null,
      tabs: each.tabKeys,
      ...valueJson(each),
    })),
  };
}

function valueJson({ valueM, standardUncertaintyM, degreesOfFreedom, limits, decision }: Assessed) {
  return {
    valueMm: mm(valueM),
    ...doubtJson(standardUncertaintyM),
    degreesOfFreedom: finite(degreesOfFreedom),
    limitsMm: limitsJson(limits),
    outcome: decision.outcome,
    probability: share(decision.probability),
    acceptanceMm: limitsJson(decision.acceptance),
    rejectionMm: limitsJson(decision.rejection),
    sentence: decision.sentence,
  };
}

function mistakeJson(suspicion: Suspicion): object {
  return {
    id: suspicion.id,
    kind: suspicion.kind,
    sentence: suspicion.sentence,
    offer: suspicion.offer,
    applied: false,
    log10Odds: rounded(suspicion.log10Odds, 1),
    probability: share(suspicion.probability),
    stepMm: mm(suspicion.stepM),
    readings: suspicion.concerns.map(({ target, readM, insteadM, belongsTo, expectedM }) => ({
      ...target,
      readMm: mm(readM),
      insteadMm: mm(insteadM),
      belongsTo,
      expectedMm: mm(expectedM),
    })),
    correction: correctionJson(suspicion.correction),
    alternatives: suspicion.alternatives.map(mistakeJson),
  };
}

function correctionJson(correction: Correction | undefined) {
  if (correction === undefined || correction.kind === "datum") return correction ?? null;
  return {
    kind: correction.kind,
    edits: correction.edits.map(({ target, readM, to }) => ({
      target,
      readMm: mm(readM),
      to: to === undefined ? null : { target: to.target, valueMm: mm(to.valueM) },
    })),
  };
}

function attributionJson({ lines, rates, common, residuals, prior }: Attribution) {
  return {
    lines: lines.map(({ lineKey, changeM, deviationM, priorDeviationM, knowledge, partners }) => ({
      line: lineKey,
      changeMm: mm(changeM),
      standardDeviationMm: mm(deviationM),
      priorStandardDeviationMm: mm(priorDeviationM),
      knowledge,
      partners: partners.map((each) => ({ line: each.lineKey, correlation: rounded(each.correlation, 3) })),
    })),
    ratesMmPerM: rates.map(({ name, mean, deviation }) => ({
      name,
      mean: mm(mean),
      standardDeviation: mm(deviation),
    })),
    common: common.map(({ name, mean, deviation }) => ({
      name,
      meanMm: mm(mean),
      standardDeviationMm: mm(deviation),
    })),
    residuals: residuals.map(({ kind, key, residualM, normalised }) => ({
      kind,
      key,
      residualMm: mm(residualM),
      normalised: rounded(normalised, 2),
    })),
    prior: {
      spreadMmPerRootM: mm(prior.spread),
      rowRateMmPerM: mm(prior.rowRate),
      groupRateMmPerM: mm(prior.groupRate),
      sideRateMmPerM: mm(prior.sideRate),
    },
  };
}

function gainJson({ lineKey, share: part, beforeM, afterM }: ReadingGain) {
  return {
    line: lineKey,
    share: rounded(part, 4),
    beforeMm: mm(beforeM),
    afterMm: mm(afterM),
  };
}

function incidenceJson(bands: IncidenceBands, { influences }: Judgement["assumptions"]) {
  const named = (band: AngleBand | undefined) => (band === undefined ? null : bandJson(band));
  return {
    mean: named(bands.mean),
    left: named(bands.left),
    right: named(bands.right),
    leftLessRight: named(bands.leftLessRight),
    ribs: bands.ribs.map((rib) => ({
      side: rib.side,
      rib: rib.rib,
      yM: rounded(rib.yM, 4),
      ...bandJson(rib),
    })),
    draws: bands.draws,
    largestDisagreement: rounded(bands.largestDisagreement, 4),
    assumptions: influences.map(({ name, low, high, lowRad, highRad }) => ({
      name,
      low,
      high,
      ribs: bands.ribs.map(({ side, rib }, r) => ({
        side,
        rib,
        lowDeg: degrees(lowRad[r]),
        highDeg: degrees(highRad[r]),
      })),
    })),
  };
}

function bandJson(band: AngleBand) {
  const interval = ({ low, high }: Interval) => [degrees(low), degrees(high)];
  return {
    measuredDeg: degrees(band.measuredRad),
    likelyDeg: degrees(band.likelyRad),
    readingsStandardDeviationDeg: degrees(band.readingRad),
    assumptionsDeg: degrees(band.assumptionsRad),
    readings68Deg: interval(band.drawn68),
    readings95Deg: interval(band.drawn95),
    closedForm68Deg: interval(band.normal68),
    closedForm95Deg: interval(band.normal95),
    combined68Deg: interval(band.combined68),
    combined95Deg: interval(band.combined95),
  };
}
