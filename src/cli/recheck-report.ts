/** What a check after the work shows, as text and as JSON. */

import { cautionFull } from "../diagnosis/caution.ts";
import { trimmed } from "../diagnosis/wording.ts";
import type { Wing } from "../plan/index.ts";
import type { Check } from "../readings/index.ts";
import { type Key, say, signedLength, speech } from "../words/index.ts";
import { type Comparison, type Kept, type PromisedChange, sayList } from "../workshop/index.ts";
import { wingCaution } from "./messages.ts";
import { lengthFigure, paragraph, signedLength as signedFigure, table } from "./table.ts";
import { mm, wingTitle } from "./wing-report.ts";

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
    caution: wingCaution(),
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
    cautions: cautionFull(),
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
  const of = ({ date, tensionN, from }: Check): string =>
    say("cli.recheck.check", { date, tension: trimmed(tensionN, 3), from });
  return [
    paragraph(
      say("cli.recheck.frame", {
        wing: wingTitle(wing),
        after: of(after),
        before: of(before),
        unit: speech().unit,
      }),
    ),
    changesText(comparison),
    shiftText(comparison),
    table(
      [say("cli.head.row"), say("cli.head.before"), say("cli.head.planned"), say("cli.head.after")],
      comparison.rows.map((row) => [
        say("cli.row", { row: row.row }),
        signedFigure(row.beforeM, 1),
        signedFigure(row.plannedM, 1),
        signedFigure(row.afterM, 1),
      ]),
    ),
    movedText(comparison),
    cautionFull()
      .map((text) => paragraph(text))
      .join(""),
  ]
    .filter((text) => text !== "")
    .join("\n");
}

/** What a change came to; what is not as promised stands out. */
const OUTCOMES: Readonly<Record<Kept["outcome"], Key>> = {
  "as promised": "cli.outcome.promised",
  otherwise: "cli.outcome.otherwise",
  "not read": "cli.outcome.not-read",
};

function changesText({ changes }: Comparison): string {
  if (changes.length === 0) return "";
  const rows = changes.map((change) => [
    change.lineKey,
    signedFigure(change.promisedM, 1),
    signedFigure(change.didM, 1),
    lengthFigure(change.standardUncertaintyM, 1),
    String(change.tabKeys.length),
    say(OUTCOMES[change.outcome]),
  ]);
  const otherwise = changes.filter(({ outcome }) => outcome === "otherwise");
  const unread = changes.filter(({ outcome }) => outcome === "not read");
  const told = [
    ...otherwise.map(({ lineKey, promisedM, didM }) =>
      say("cli.recheck.otherwise", {
        line: lineKey,
        promised: promisedM === undefined ? "-" : signedLength(promisedM, 1),
        did: didM === undefined ? "-" : signedLength(didM, 1),
      }),
    ),
    ...(unread.length === 0
      ? []
      : [
          say("cli.recheck.unread", {
            lines: sayList(unread.map(({ lineKey }) => lineKey)),
          }),
        ]),
    ...(otherwise.length + unread.length === 0 ? [say("cli.recheck.kept")] : []),
  ];
  const head = [
    say("cli.head.line"),
    say("cli.head.promised"),
    say("cli.head.did"),
    say("cli.head.within"),
    say("cli.head.paths"),
    say("cli.head.outcome"),
  ];
  return `${table(head, rows)}\n${told.map((text) => paragraph(text)).join("")}`;
}

function shiftText({ shiftM, shiftRemoved }: Comparison): string {
  if (shiftM === undefined) return paragraph(say("cli.recheck.shift.none"));
  const said = { shift: signedLength(shiftM, 1), removed: shiftRemoved ? "yes" : "no" };
  return paragraph(say("cli.recheck.shift", said));
}

function movedText({ movedTabKeys, shiftM }: Comparison): string {
  if (shiftM === undefined) return "";
  return movedTabKeys.length === 0
    ? `${say("cli.recheck.still")}\n`
    : paragraph(say("cli.recheck.moved", { count: movedTabKeys.length, tabs: sayList(movedTabKeys) }));
}
