/** Decisions for people: what doesn't keep its limit, rows and sides against each other, and what each ± rests on. */
import type { Assessed, Assessment } from "../diagnosis/assess.ts";
import type { Outcome } from "../diagnosis/conformity.ts";
import { ruleSentence } from "../diagnosis/conformity.ts";
import { trimmed, trimmedMm } from "../diagnosis/wording.ts";
import type { Row } from "../plan/index.ts";
import type { PathUncertainties } from "../readings/uncertainty.ts";
import { say } from "../words/index.ts";
import { chance, expanded, limitsInWords } from "./diagnose-words.ts";
import { figure, paragraph, signedLength, table } from "./table.ts";

/** Gravest first. */
const KINDS: readonly Assessed["kind"][] = ["brake travel", "rows", "sides", "pair", "path"];

/** How many values keep their limits, by which rule and whose limits; then each that does not or is undecided. */
export function decisionsText({ assessed, count, notRead, rule, toleranceNote }: Assessment): string {
  const listed = (outcome: Outcome, titleOf: (count: number) => string): string => {
    const some = KINDS.flatMap((kind) =>
      assessed.filter((each) => each.kind === kind && each.decision.outcome === outcome),
    );
    return some.length === 0 ? "" : decisionTable(titleOf(some.length), some);
  };
  return [
    paragraph(
      [
        say("cli.decisions.summary", {
          values: assessed.length,
          fail: count["does not conform"],
          undecided: count.undecided,
          conform: count.conforms,
          unread: notRead,
        }),
        ruleSentence(rule),
        toleranceNote,
        say("cli.decisions.clearance"),
      ].join(" "),
    ),
    listed("does not conform", (some) => say("cli.decisions.fail", { count: some })),
    listed("undecided", (some) => say("cli.decisions.undecided", { count: some })),
  ]
    .filter((text) => text !== "")
    .join("\n");
}

function decisionTable(title: string, some: readonly Assessed[]): string {
  return table(
    [title, say("cli.head.value"), say("cli.head.expanded"), say("cli.head.limit"), say("cli.head.chance")],
    some.map(({ subject, valueM, standardUncertaintyM, limits, decision }) => [
      subject,
      signedLength(valueM, 1),
      expanded(standardUncertaintyM),
      limitsInWords(limits),
      chance(decision.probability),
    ]),
  );
}

/** What every uncertainty rests on. */
export function settingsText({ settings }: Pick<PathUncertainties, "settings">): string {
  return paragraph(
    say("cli.decisions.settings", {
      reading: trimmedMm(settings.readingM, 2),
      tensionEach: trimmed(settings.tensionEachN, 3),
      resolution: trimmedMm(settings.resolutionM, 2),
      zero: trimmedMm(settings.zeroM, 2),
      scale: figure(1e6 * settings.scale),
      tension: trimmed(settings.tensionCheckN, 3),
      rows: settings.rowPointM === 0 ? "no" : "yes",
      rowPoint: trimmedMm(settings.rowPointM, 2),
      sides: settings.sidePointM === 0 ? "no" : "yes",
      sidePoint: trimmedMm(settings.sidePointM, 2),
    }),
  );
}

/** Behind a figure: what was decided of it. */
const MARKS: Readonly<Record<Outcome, string>> = { "does not conform": "!", undecided: "?", conforms: " " };

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
            : `${signedLength(found.valueM, 1)} ± ${expanded(found.standardUncertaintyM)} ${MARKS[found.decision.outcome]}`;
        }),
      ]),
    ),
    `${say("cli.decisions.rows")} ${say("cli.decisions.marks")}\n`,
  ].join("");
}

/** Each row's mean on the left less that on the right. */
export function sidesText({ assessed }: Assessment): string {
  const sides = assessed.filter((each) => each.kind === "sides");
  if (sides.length === 0) return "";
  return [
    table(
      [
        say("cli.head.row"),
        say("cli.head.left-less-right"),
        say("cli.head.expanded"),
        say("cli.head.limit"),
        say("cli.head.chance"),
        "",
      ],
      sides.map(({ rows, valueM, standardUncertaintyM, limits, decision }) => [
        say("cli.row", { row: rows[0] as Row }),
        signedLength(valueM, 1),
        expanded(standardUncertaintyM),
        limitsInWords(limits),
        chance(decision.probability),
        MARKS[decision.outcome].trim(),
      ]),
    ),
    `${say("cli.decisions.sides")} ${say("cli.decisions.marks")}\n`,
  ].join("");
}
