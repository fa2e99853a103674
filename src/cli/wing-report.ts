/** What the commands that take readings print alike: the frame, the tabs, the rows and the findings, in figures and in words. */

import type { Analysis, Finding, RowSummary } from "../diagnosis/model.ts";
import { sourceOf, trimmed } from "../diagnosis/wording.ts";
import type { Problem, Wing } from "../plan/index.ts";
import type { Check, PathDeviation } from "../readings/index.ts";
import { length, say, speech } from "../words/index.ts";
import { EXIT_PROBLEMS, type Io } from "./io.ts";
import { jsonText, problemsJson, problemsText, rounded, wingCaution } from "./messages.ts";
import { paragraph, signed, signedLength, table } from "./table.ts";

/** What an input is called in JSON, the same in every language. */
export type InputName =
  | "plan"
  | "readings"
  | "readings before"
  | "readings after"
  | "book"
  | "changes"
  | "table";

/** An input with errors: told as JSON where JSON was asked for, else on standard error. */
export function refuse(input: InputName, problems: readonly Problem[], json: boolean, io: Io): number {
  if (json) io.out(jsonText({ ok: false, input, problems: problemsJson(problems), caution: wingCaution() }));
  else io.err(problemsText(problems));
  return EXIT_PROBLEMS;
}

/** For JSON: a length [m] in millimetres to a thousandth, null where there is none. */
export const mm = (lengthM: number | undefined): number | null =>
  lengthM === undefined ? null : rounded(1000 * lengthM, 3);
/** For JSON: an angle [rad] in degrees to 0.0001°, null where there is none. */
export const degrees = (angle: number | undefined): number | null =>
  angle === undefined ? null : rounded((angle * 180) / Math.PI, 4);
/** For tables: an angle [rad] in degrees. */
export const inDegrees = (angle: number | undefined): number | undefined =>
  angle === undefined ? undefined : (angle * 180) / Math.PI;

export interface Pair {
  readonly id: string;
  readonly left: PathDeviation | undefined;
  readonly right: PathDeviation | undefined;
}

/** A tab's two sides together, in the plan's order. */
export function pairs(wing: Wing, paths: readonly PathDeviation[]): Pair[] {
  const ids = [...new Set(wing.tabs.map((tab) => tab.id))];
  const bySide = new Map(paths.map((path) => [path.tabKey, path]));
  return ids.map((id) => ({ id, left: bySide.get(`left:${id}`), right: bySide.get(`right:${id}`) }));
}

/** Left deviation less right deviation [m]; undefined unless both were measured. */
export function leftLessRight({ left, right }: Pair): number | undefined {
  if (left?.deviationM === undefined || right?.deviationM === undefined) return undefined;
  return left.deviationM - right.deviationM;
}

/** Wing, frame of the readings, limits, deviations, rows and incidence, as every comparison's JSON has them. */
export function comparedJson(analysis: Analysis, check: Check) {
  const { wing } = analysis;
  return {
    wing: wing.name,
    caution: wingCaution(),
    check: {
      date: check.date,
      tensionN: check.tensionN,
      from: check.from,
      instrumentZeroMm: mm(check.instrumentZeroM),
      referenceTensionN: wing.reference.tensionN,
    },
    tolerances: {
      pathMm: mm(wing.tolerances.pathM),
      leftRightMm: mm(wing.tolerances.leftRightM),
      rowToRowMm: mm(wing.tolerances.rowToRowM),
      minBrakeFreeTravelMm: mm(wing.tolerances.minBrakeFreeTravelM),
      source: wing.tolerances.source,
    },
    tabs: pairs(wing, analysis.deviations.paths).map((pair) => ({
      tab: pair.id,
      row: (pair.left ?? pair.right)?.row ?? null,
      left: sideJson(pair.left),
      right: sideJson(pair.right),
      leftLessRightMm: mm(leftLessRight(pair)),
    })),
    lines: analysis.deviations.lines.map((line) => ({
      line: line.lineKey,
      specifiedMm: mm(line.specifiedM),
      measuredMm: mm(line.measuredM),
      deviationMm: mm(line.deviationM),
    })),
    rows: analysis.rows.map((row) => ({
      row: row.row,
      measured: row.measured,
      tabs: row.total,
      meanMm: mm(row.meanM),
      leftMm: mm(row.leftM),
      rightMm: mm(row.rightM),
      worstMm: mm(row.worstM),
      worstTab: row.worstTabKey ?? null,
      outOfTolerance: row.outOfTolerance,
      incidenceChangeDeg: degrees(row.incidenceRad),
    })),
    incidenceChangeDeg: {
      mean: degrees(analysis.meanIncidenceRad),
      left: degrees(analysis.leftIncidenceRad),
      right: degrees(analysis.rightIncidenceRad),
    },
  };
}

function sideJson(path: PathDeviation | undefined) {
  if (path === undefined) return null;
  return {
    specifiedMm: mm(path.specifiedM),
    measuredMm: mm(path.measuredM),
    deviationMm: mm(path.deviationM),
    repeats: path.repeats,
    repeatSpreadMm: mm(path.repeatSpreadM),
  };
}

export function findingJson(finding: Finding) {
  return {
    severity: finding.severity,
    kind: finding.kind,
    side: finding.side ?? null,
    headline: finding.headline,
    detail: finding.detail,
    lines: finding.lineKeys,
    tabs: finding.tabKeys,
  };
}

/** The wing's name and size; a name that ends in its size says it once. */
export function wingTitle({ name, size }: Pick<Wing, "name" | "size">): string {
  return size === undefined || name.split(/\s+/).includes(size) ? name : `${name} ${size}`;
}

/** The line that begins a comparison: which wing, when and how it was read. */
export function frameText(wing: Wing, check: Check): string {
  const said = {
    wing: wingTitle(wing),
    date: check.date,
    tension: trimmed(check.tensionN, 3),
    from: check.from,
    unit: speech().unit,
  };
  return `${say("cli.frame", said)}\n`;
}

export function rowTable(rows: readonly RowSummary[]): string {
  return table(
    [
      say("cli.head.row"),
      say("cli.head.measured"),
      say("cli.head.mean"),
      say("cli.head.left"),
      say("cli.head.right"),
      say("cli.head.worst"),
      say("cli.head.at"),
      say("cli.head.out"),
      say("cli.head.turn"),
    ],
    rows.map((row) => [
      say("cli.row", { row: row.row }),
      say("cli.of", { part: row.measured, total: row.total }),
      signedLength(row.meanM, 1),
      signedLength(row.leftM, 1),
      signedLength(row.rightM, 1),
      signedLength(row.worstM),
      row.worstTabKey ?? "-",
      String(row.outOfTolerance),
      signed(inDegrees(row.incidenceRad), 2),
    ]),
  );
}

/** The limits in figures, and whose they are. */
export function limitsText({ tolerances }: Wing): string {
  const said = {
    path: length(tolerances.pathM),
    leftRight: length(tolerances.leftRightM),
    rowToRow: length(tolerances.rowToRowM),
    source: sourceOf(tolerances),
  };
  return paragraph(say("cli.limits.used", said));
}

export function findingText({ severity, headline, detail }: Finding): string {
  return `${say("cli.severity", { severity })}  ${headline}\n${paragraph(detail, "  ")}`;
}
