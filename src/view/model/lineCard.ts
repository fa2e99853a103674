/** All that is said of one line when it is pointed at. */
import type { Analysis, Basis } from "../../diagnosis/model.ts";
import type { Row, Side } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import { type Cascade, carriesText, hangsOnText, tierName } from "./cascade.ts";

export interface LineCard {
  readonly key: string;
  readonly id: string;
  readonly side: Side;
  readonly row: Row;
  readonly tier: string;
  readonly material: string;
  readonly colour: string | undefined;
  readonly loop: string | undefined;
  readonly specifiedM: number;
  /** True where the plan gave no length for the line and one was assumed. */
  readonly specifiedAssumed: boolean;
  /** The line's own measured length; only where it was read by itself. */
  readonly measuredM: number | undefined;
  readonly deviationM: number | undefined;
  readonly basis: Basis;
  /** How the deviation is known, in words. */
  readonly basisText: string;
  /** Paths through this line with what was read. */
  readonly paths: readonly CardPath[];
  readonly hangsOn: string;
  readonly carries: string;
  readonly mirrorKey: string | undefined;
  readonly mirrorDeviationM: number | undefined;
  /** This line − its mirror partner [m]; undefined where either is not measured. */
  readonly mirrorDifferenceM: number | undefined;
  readonly specifiedTensionN: number | undefined;
  readonly measuredTensionN: number | undefined;
}

export interface CardPath {
  readonly tabKey: string;
  readonly tabId: string;
  readonly specifiedM: number;
  readonly measuredM: number | undefined;
  readonly deviationM: number | undefined;
}

function basisText(basis: Basis, measured: number, through: number): string {
  switch (basis) {
    case "line":
      return say("panes.basis.line");
    case "path":
      return say("panes.basis.path");
    case "paths above":
      return say("panes.basis.above", {
        all: measured === through ? "yes" : "no",
        read: measured,
        through,
      });
    case "not measured":
      return say("panes.basis.none");
  }
}

/** The card of a line, or undefined where the wing has no such line. */
export function lineCard(analysis: Analysis, cascade: Cascade, lineKey: string): LineCard | undefined {
  const line = cascade.lines.get(lineKey);
  if (line === undefined) return undefined;
  const deviations = new Map(analysis.lines.map((entry) => [entry.lineKey, entry]));
  const own = deviations.get(lineKey);
  const read = analysis.deviations.lines.find((entry) => entry.lineKey === lineKey);
  const above = new Set(cascade.tabsAbove.get(lineKey));
  const paths = analysis.deviations.paths
    .filter((path) => above.has(path.tabKey))
    .map(
      (path): CardPath => ({
        tabKey: path.tabKey,
        tabId: cascade.tabs.get(path.tabKey)?.id ?? path.tabKey,
        specifiedM: path.specifiedM,
        measuredM: path.measuredM,
        deviationM: path.deviationM,
      }),
    );
  const mirror = line.mirrorKey === undefined ? undefined : deviations.get(line.mirrorKey);
  const member = analysis.model.lineMember.get(lineKey);
  const basis = own?.basis ?? "not measured";
  return {
    key: line.key,
    id: line.id,
    side: line.side,
    row: line.row,
    tier: tierName(line),
    material: line.materialId,
    colour: line.colour,
    loop: line.loopName,
    specifiedM: line.lengthM,
    specifiedAssumed: line.lengthAssumed,
    measuredM: read?.measuredM,
    deviationM: own?.deviationM,
    basis,
    basisText: basisText(basis, paths.filter((path) => path.deviationM !== undefined).length, paths.length),
    paths,
    hangsOn: hangsOnText(line, cascade),
    carries: carriesText(line, cascade),
    mirrorKey: line.mirrorKey,
    mirrorDeviationM: mirror?.deviationM,
    mirrorDifferenceM:
      own?.deviationM === undefined || mirror?.deviationM === undefined
        ? undefined
        : own.deviationM - mirror.deviationM,
    specifiedTensionN: member === undefined ? undefined : analysis.model.specified.tensionsN[member],
    measuredTensionN: member === undefined ? undefined : analysis.measured?.tensionsN[member],
  };
}
