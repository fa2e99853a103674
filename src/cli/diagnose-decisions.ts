/** Decisions for people: what doesn't keep its limit, rows and sides against each other, and what each ± rests on. */

import type { Assessed, Assessment } from "../diagnosis/assess.ts";
import type { Outcome } from "../diagnosis/conformity.ts";
import { ruleSentence } from "../diagnosis/conformity.ts";
import type { Row } from "../plan/index.ts";
import type { PathUncertainties } from "../readings/uncertainty.ts";
import { chance, expanded, limitsInWords } from "./diagnose-words.ts";
import { figure, paragraph, signed, table } from "./table.ts";

/** Gravest first. */
const KINDS: readonly Assessed["kind"][] = ["brake travel", "rows", "sides", "pair", "path"];

/** How many values keep their limits, by which rule and whose limits; then each that does not or is undecided. */
export function decisionsText({ assessed, count, notRead, rule, toleranceNote }: Assessment): string {
  const unread = notRead === 0 ? "" : `; ${notRead} ${notRead === 1 ? "path wasn't" : "paths weren't"} read`;
  const listed = (outcome: Outcome, title: string): string => {
    const some = KINDS.flatMap((kind) =>
      assessed.filter((each) => each.kind === kind && each.decision.outcome === outcome),
    );
    return some.length === 0 ? "" : decisionTable(`${title} (${some.length})`, some);
  };
  return [
    paragraph(
      `Values judged: ${assessed.length}. Don't conform: ${count["does not conform"]}; undecided: ${count.undecided}; ` +
        `conform: ${count.conforms}${unread}. ${ruleSentence(rule)} ${toleranceNote} ` +
        "That a value conforms to a limit is no clearance to fly.",
    ),
    listed("does not conform", "does not conform"),
    listed("undecided", "undecided"),
  ]
    .filter((text) => text !== "")
    .join("\n");
}

function decisionTable(title: string, some: readonly Assessed[]): string {
  return table(
    [title, "value", "± U", "limit", "keeps it with"],
    some.map(({ subject, valueM, standardUncertaintyM, limits, decision }) => [
      subject,
      signed(1000 * valueM, 1),
      expanded(standardUncertaintyM),
      limitsInWords(limits),
      chance(decision.probability),
    ]),
  );
}

/** What every uncertainty rests on. */
export function settingsText({ settings }: Pick<PathUncertainties, "settings">): string {
  const length = (valueM: number): string => `${Number((1000 * valueM).toFixed(2))} mm`;
  const points = [
    settings.rowPointM === 0 ? "" : `; each row's measuring point ${length(settings.rowPointM)}`,
    settings.sidePointM === 0 ? "" : `; each side's hanging ${length(settings.sidePointM)}`,
  ].join("");
  return paragraph(
    `Standard uncertainties. Each reading: ${length(settings.readingM)} and ${settings.tensionEachN} N, steps of ` +
      `${length(settings.resolutionM)}. Shared by all: zero ${length(settings.zeroM)}, scale ` +
      `${figure(1e6 * settings.scale)} mm per km, tension ${settings.tensionCheckN} N${points}. Repeats in the check count ` +
      "besides. Each ± here is as good as these.",
  );
}

/** Behind a figure: what was decided of it. */
const MARKS: Readonly<Record<Outcome, string>> = { "does not conform": "!", undecided: "?", conforms: " " };
const MARKS_TOLD = "! does not conform, ? undecided.\n";

/** Rows down are the front ones, across the rear ones. */
export function matrixText({ assessed }: Assessment): string {
  const differences = assessed.filter((each) => each.kind === "rows");
  if (differences.length === 0) return "";
  const names = (place: 0 | 1): Row[] => [...new Set(differences.flatMap(({ rows }) => rows[place] ?? []))];
  const rear = names(1);
  return [
    table(
      ["", ...rear],
      names(0).map((front) => [
        front,
        ...rear.map((behind) => {
          const found = differences.find(({ rows }) => rows[0] === front && rows[1] === behind);
          return found === undefined
            ? ""
            : `${signed(1000 * found.valueM, 1)} ± ${expanded(found.standardUncertaintyM)} ${MARKS[found.decision.outcome]}`;
        }),
      ]),
    ),
    `Positive where the rear row is the shorter. ${MARKS_TOLD}`,
  ].join("");
}

/** Each row's mean on the left less that on the right. */
export function sidesText({ assessed }: Assessment): string {
  const sides = assessed.filter((each) => each.kind === "sides");
  if (sides.length === 0) return "";
  return [
    table(
      ["row", "left less right", "± U", "limit", "keeps it with", ""],
      sides.map(({ rows, valueM, standardUncertaintyM, limits, decision }) => [
        rows[0] as string,
        signed(1000 * valueM, 1),
        expanded(standardUncertaintyM),
        limitsInWords(limits),
        chance(decision.probability),
        MARKS[decision.outcome].trim(),
      ]),
    ),
    `Negative where the left side is the shorter. ${MARKS_TOLD}`,
  ].join("");
}
