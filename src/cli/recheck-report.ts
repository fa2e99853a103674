/** What a check after the work shows, as text and as JSON. */
import { CAUTION_FULL } from "../diagnosis/caution.ts";
import type { Wing } from "../plan/index.ts";
import type { Check } from "../readings/index.ts";
import { type Comparison, type Kept, type PromisedChange, sayList } from "../workshop/index.ts";
import { WING_CAUTION } from "./messages.ts";
import { figure, paragraph, signed, table } from "./table.ts";
import { inMm, mm, wingTitle } from "./wing-report.ts";

export interface RecheckAnswer {
  readonly wing: Wing;
  readonly before: Check;
  readonly after: Check;
  readonly done: readonly PromisedChange[];
  readonly comparison: Comparison;
}

export function recheckJson({ wing, before, after, comparison }: RecheckAnswer): object {
  const frame = ({ date, tensionN, from }: Check) => ({ date, tensionN, from });
  return {
    format: "linewright-recheck",
    version: 1,
    ok: true,
    wing: wing.name,
    caution: WING_CAUTION,
    before: frame(before),
    after: frame(after),
    shift: { valueMm: mm(comparison.shiftM), removed: comparison.shiftRemoved },
    changes: comparison.changes.map((change) => ({
      line: change.lineKey,
      tabs: change.tabKeys,
      ...keptJson(change),
    })),
    rows: comparison.rows.map((row) => ({
      row: row.row,
      beforeMm: mm(row.beforeM),
      plannedMm: mm(row.plannedM),
      afterMm: mm(row.afterM),
    })),
    moved: comparison.movedTabKeys,
    paths: comparison.paths.map((path) => ({
      tab: path.tabKey,
      row: path.row,
      beforeMm: mm(path.beforeM),
      plannedMm: mm(path.plannedM),
      afterMm: mm(path.afterM),
      ...keptJson(path),
    })),
    cautions: CAUTION_FULL,
  };
}

function keptJson({ promisedM, didM, standardUncertaintyM, outcome }: Kept) {
  return {
    promisedMm: mm(promisedM),
    didMm: mm(didM),
    standardUncertaintyMm: mm(standardUncertaintyM),
    outcome,
  };
}

export function recheckText({ wing, before, after, comparison }: RecheckAnswer): string {
  const of = ({ date, tensionN, from }: Check): string => `${date} (${tensionN} N from the ${from})`;
  return [
    paragraph(
      `${wingTitle(wing)}, check of ${of(after)} against that of ${of(before)}; lengths in mm, longer is positive.`,
    ),
    changesText(comparison),
    shiftText(comparison),
    table(
      ["row", "before", "as planned", "after"],
      comparison.rows.map((row) => [
        row.row,
        signed(inMm(row.beforeM), 1),
        signed(inMm(row.plannedM), 1),
        signed(inMm(row.afterM), 1),
      ]),
    ),
    movedText(comparison),
    CAUTION_FULL.map((text) => paragraph(text)).join(""),
  ]
    .filter((text) => text !== "")
    .join("\n");
}

function changesText({ changes }: Comparison): string {
  if (changes.length === 0) return "";
  const rows = changes.map((change) => [
    change.lineKey,
    signed(inMm(change.promisedM), 1),
    signed(inMm(change.didM), 1),
    figure(inMm(change.standardUncertaintyM), 1),
    String(change.tabKeys.length),
    change.outcome === "otherwise" ? "OTHERWISE" : change.outcome,
  ]);
  const otherwise = changes.filter(({ outcome }) => outcome === "otherwise");
  const unread = changes.filter(({ outcome }) => outcome === "not read");
  const told = [
    ...otherwise.map(
      ({ lineKey, promisedM, didM }) =>
        `${lineKey} was to do ${signed(inMm(promisedM), 1)} mm and did ${signed(inMm(didM), 1)} mm. Look at its loop, and read its paths again.`,
    ),
    ...(unread.length === 0
      ? []
      : [
          `Not read on both days: ${sayList(unread.map(({ lineKey }) => lineKey))}. Nothing is said of them.`,
        ]),
    ...(otherwise.length + unread.length === 0 ? ["Every change did what it promised."] : []),
  ];
  return `${table(["line", "promised", "did", "+-", "paths", "outcome"], rows)}\n${told.map((text) => paragraph(text)).join("")}`;
}

function shiftText({ shiftM, shiftRemoved }: Comparison): string {
  if (shiftM === undefined)
    return paragraph("No path was left untouched: a shift between the two days can't be told from the work.");
  return paragraph(
    `Paths that nothing was done to read ${signed(1000 * shiftM, 1)} mm from one day to the other: ` +
      (shiftRemoved
        ? "taken for a shift that all paths share, and taken out of what each change did. The rows are as read."
        : "too few of them to take it out, so it is left in what each change did."),
  );
}

function movedText({ movedTabKeys, shiftM }: Comparison): string {
  if (shiftM === undefined) return "";
  return movedTabKeys.length === 0
    ? "No path moved that nothing was done to.\n"
    : paragraph(
        `Moved though nothing was done to ${movedTabKeys.length === 1 ? "it" : "them"}: ${sayList(movedTabKeys)}. Look for a line in the wrong place, a loop that has slipped or a reading that is wrong.`,
      );
}
