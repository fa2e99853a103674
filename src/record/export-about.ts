/** What has to be known beside exported figures: of which wing and check they are, how they are counted, and what they aren't. */
import { cautionFull } from "../diagnosis/caution.ts";
import type { DecisionRule } from "../diagnosis/conformity.ts";
import type { Analysis } from "../diagnosis/model.ts";
import { signedMm } from "../diagnosis/wording.ts";
import type { Wing } from "../plan/index.ts";
import { type Check, checkFile } from "../readings/index.ts";
import { say } from "../words/index.ts";
import { type ExportCell, type ExportUnit, inMm } from "./export-table.ts";

/** Names of entries: English in every language, and those of a check as its own tables have them, so that they are read again. */
export type ExportEntryName =
  | "wing"
  | "date"
  | "tension"
  | "from"
  | "zero"
  | "instrument"
  | "resolution"
  | "zero uncertainty"
  | "scale uncertainty"
  | "tension uncertainty"
  | "reading uncertainty"
  | "note"
  | "size"
  | "plan counted from"
  | "plan tension"
  | "path tolerance"
  | "left right tolerance"
  | "row to row tolerance"
  | "least brake free travel"
  | "tolerances from"
  | "decision rule"
  | "shared part taken out";

export interface ExportEntry {
  readonly name: ExportEntryName;
  readonly value: ExportCell;
  readonly unit?: ExportUnit;
}

export interface ExportAbout {
  /** For programs: the same in every language. */
  readonly entries: readonly ExportEntry[];
  /** How the figures are counted, in the language set. */
  readonly notes: readonly string[];
  /** To be read with the figures, in the language set. */
  readonly cautions: readonly string[];
}

/** @param analysis whose figures are exported */
export function aboutOf(analysis: Analysis): ExportAbout {
  const { wing, check, assessment, uniformM, uniformRemoved } = analysis;
  const removedM = uniformRemoved === true ? uniformM : undefined;
  return {
    entries: [
      ...(check === undefined ? [{ name: "wing", value: wing.name } as const] : checkEntries(check, wing)),
      { name: "size", value: wing.size },
      { name: "plan counted from", value: wing.reference.from },
      { name: "plan tension", value: wing.reference.tensionN, unit: "N" },
      ...toleranceEntries(wing),
      { name: "decision rule", value: assessment && ruleText(assessment.rule) },
      { name: "shared part taken out", value: inMm(removedM), unit: "mm" } as const,
    ].filter(({ value }) => value !== undefined) as readonly ExportEntry[],
    notes: [
      say("export.note.deviation"),
      ...(removedM === undefined ? [] : [say("export.note.uniform", { part: signedMm(removedM, 1) })]),
      ...(analysis.measured === undefined ? [] : [say("export.note.incidence")]),
      ...(assessment === undefined ? [] : [assessment.toleranceNote]),
    ],
    cautions: cautionFull(),
  };
}

/** Named and written as the tables of readings are, so that they are read again. */
function checkEntries(check: Check, wing: Wing): readonly ExportEntry[] {
  const { date, tensionN, from, instrument = {}, note } = checkFile(check);
  const { name, zeroMm, resolutionMm } = instrument;
  return [
    { name: "wing", value: check.wingName ?? wing.name },
    { name: "date", value: { day: date } },
    { name: "tension", value: tensionN, unit: "N" },
    { name: "from", value: from },
    { name: "zero", value: zeroMm ?? 0, unit: "mm" },
    { name: "instrument", value: name },
    { name: "resolution", value: resolutionMm, unit: "mm" },
    { name: "zero uncertainty", value: instrument.zeroUncertaintyMm, unit: "mm" },
    { name: "scale uncertainty", value: instrument.scaleUncertaintyPpm, unit: "ppm" },
    { name: "tension uncertainty", value: instrument.tensionUncertaintyN, unit: "N" },
    { name: "reading uncertainty", value: instrument.readingUncertaintyMm, unit: "mm" },
    { name: "note", value: note },
  ];
}

function toleranceEntries({ tolerances }: Wing): readonly ExportEntry[] {
  return [
    { name: "path tolerance", value: inMm(tolerances.pathM), unit: "mm" },
    { name: "left right tolerance", value: inMm(tolerances.leftRightM), unit: "mm" },
    { name: "row to row tolerance", value: inMm(tolerances.rowToRowM), unit: "mm" },
    { name: "least brake free travel", value: inMm(tolerances.minBrakeFreeTravelM), unit: "mm" },
    { name: "tolerances from", value: tolerances.source },
  ];
}

/** `guard band 0.83`: the rule's kind and its figure. */
function ruleText(rule: DecisionRule): string {
  switch (rule.kind) {
    case "simple acceptance":
      return rule.kind;
    case "guard band":
      return `${rule.kind} ${rule.r}`;
    case "minimum probability":
      return `${rule.kind} ${rule.probability}`;
  }
}
