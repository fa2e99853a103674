/** A diagnosis for people: what matters first, each figure with its uncertainty, the cautions last. */

import type { AngleBand, IncidenceBands } from "../diagnosis/bands.ts";
import { travelOnLines } from "../diagnosis/brake-travel.ts";
import type { Suspicion } from "../diagnosis/mistakes/index.ts";
import { statesAtTrim } from "../diagnosis/states.ts";
import { sayTravelApart, sidedName } from "../diagnosis/wording.ts";
import type { Wing } from "../plan/index.ts";
import { type Key, lengthUnitName, say } from "../words/index.ts";
import { decisionsText, matrixText, settingsText, sidesText } from "./diagnose-decisions.ts";
import {
  COVERAGE,
  chance,
  correctionText,
  expanded,
  KNOWLEDGE,
  lineName,
  linesThatChanged,
  MISTAKES,
  targetName,
  uniformUncertainty,
} from "./diagnose-words.ts";
import type { Diagnosis } from "./diagnosis.ts";
import { wingCaution } from "./messages.ts";
import { figure, lengthFigure, paragraph, signed, signedLength, table } from "./table.ts";
import { findingText, frameText, inDegrees, rowTable } from "./wing-report.ts";

/** What a person looks at; JSON has all lines and all partners. */
const MOST_LINES = 15;
const MOST_PARTNERS = 3;
/** A reading that the estimate misses by more of its own standard deviations is worth repeating. */
const REPEAT_BEYOND = 3;

export function diagnosisText(diagnosis: Diagnosis): string {
  const { analysis, assessment, check } = diagnosis;
  const sections = [
    `${frameText(analysis.wing, check)}${say("cli.diagnose.expanded", { k: COVERAGE })}\n`,
    titled("cli.title.findings", analysis.findings.map(findingText).join("\n")),
    titled("cli.title.decisions", decisionsText(assessment) + travelText(diagnosis)),
    titled("cli.title.uncertain", settingsText(diagnosis.uncertainties)),
    titled("cli.title.rows", rowTable(analysis.rows)),
    titled("cli.title.matrix", matrixText(assessment)),
    titled("cli.title.sides", sidesText(assessment)),
    titled("cli.title.shared", uniformText(diagnosis)),
    titled("cli.title.mistakes", mistakesText(diagnosis)),
    titled("cli.title.lines", linesText(diagnosis)),
    titled("cli.title.next", nextText(diagnosis)),
    titled("cli.title.incidence", incidenceText(diagnosis)),
    paragraph(wingCaution()),
  ];
  return sections.filter((section) => section !== "").join("\n");
}

/** A section under its title; nothing where there is nothing to say. */
function titled(key: Key, text: string): string {
  if (text === "") return "";
  const title = say(key);
  return `${title}\n${"-".repeat(title.length)}\n${text}`;
}

/** Free travel is counted on the brake lines in findings and decisions alike; the model's is another figure. */
function travelText({ analysis, assessment }: Diagnosis): string {
  const isToldOf =
    travelOnLines(assessment) !== undefined || analysis.findings.some(({ kind }) => kind === "brake");
  if (!isToldOf) return "";
  const { measured } = statesAtTrim(analysis).travel;
  return `\n${paragraph(sayTravelApart("lines", measured))}`;
}

function uniformText({ analysis }: Diagnosis): string {
  const standardM = uniformUncertainty(analysis);
  if (analysis.uniformM === undefined || standardM === undefined) return "";
  const said = {
    shared: signedLength(analysis.uniformM, 1),
    uncertainty: expanded(standardM),
    unit: lengthUnitName(),
  };
  const done = analysis.uniformRemoved ? say("cli.shared.removed") : say("cli.shared.stays");
  return paragraph(`${say("cli.shared", said)} ${done}`);
}

function mistakesText({ judgement, uncertainties, analysis }: Diagnosis): string {
  const { mistakes, attribution } = judgement;
  const tabName = (key: string): string => {
    const tab = analysis.wing.tabs.find((each) => each.key === key);
    return tab === undefined ? key : sidedName(tab.id, tab.side);
  };
  const odd = attribution.residuals.filter(({ normalised }) => Math.abs(normalised) > REPEAT_BEYOND);
  const nameOf = ({ kind, key }: (typeof odd)[number]): string =>
    kind === "tab" ? tabName(key) : say("cli.line", { line: lineName(analysis.wing, key) });
  const parts = [
    mistakes.length === 0
      ? paragraph(say("cli.mistakes.none"))
      : mistakes.map((each) => mistakeText(each)).join(""),
    uncertainties.doubtfulTabKeys.length === 0
      ? ""
      : paragraph(
          say("cli.mistakes.repeats", { names: uncertainties.doubtfulTabKeys.map(tabName).join(", ") }),
        ),
    odd.length === 0 ? "" : paragraph(say("cli.mistakes.odd", { names: odd.map(nameOf).join(", ") })),
    mistakes.length === 0 ? "" : paragraph(say("cli.mistakes.unchanged")),
  ];
  return parts.join("");
}

function mistakeText(suspicion: Suspicion, indent = "", isAlternative = false): string {
  const { kind, concerns, probability, offer, correction, alternatives, sentence } = suspicion;
  const names = [...new Set(concerns.map(({ target }) => targetName(target)))];
  const title = say("cli.mistake", {
    order: isAlternative ? "other" : "first",
    kind: say(MISTAKES[kind]),
    names: names.length > 6 ? say("cli.mistake.readings", { count: names.length }) : names.join(", "),
    chance: chance(probability),
  });
  const offered =
    correction === undefined
      ? say("cli.mistake.no-offer")
      : say("cli.mistake.offer", {
          when: offer === "read again" ? "later" : "now",
          correction: correctionText(correction),
        });
  return [
    `${indent}${title}\n`,
    paragraph(`${sentence} ${offered}`, `${indent}  `),
    ...alternatives.map((other) => mistakeText(other, `${indent}  `, true)),
  ].join("");
}

function linesText({ judgement, analysis }: Diagnosis): string {
  const { wing } = analysis;
  const changed = linesThatChanged(judgement.attribution.lines);
  if (changed.length === 0) return paragraph(say("cli.lines.still", { k: COVERAGE }));
  const shown = changed.slice(0, MOST_LINES);
  const known = [...new Set(shown.map(({ knowledge }) => knowledge))];
  const more = changed.length - shown.length;
  return [
    table(
      [
        say("cli.head.line"),
        say("cli.head.change"),
        say("cli.head.sd"),
        say("cli.head.known"),
        say("cli.head.apart"),
      ],
      shown.map(({ lineKey, changeM, deviationM, knowledge, partners }) => [
        lineName(wing, lineKey),
        signedLength(changeM, 1),
        lengthFigure(deviationM, 1),
        say(KNOWLEDGE[knowledge].word),
        partnersText(
          wing,
          partners.map((partner) => partner.lineKey),
        ),
      ]),
    ),
    paragraph(
      [
        say("cli.lines.sd"),
        ...known.map((each) => say(KNOWLEDGE[each].sentence)),
        ...(more > 0 ? [say("cli.lines.more", { count: more })] : []),
      ].join(" "),
    ),
  ].join("");
}

function partnersText(wing: Wing, keys: readonly string[]): string {
  const names = keys.slice(0, MOST_PARTNERS).map((key) => lineName(wing, key));
  return say("cli.lines.partners", {
    names: names.join(", "),
    more: Math.max(0, keys.length - MOST_PARTNERS),
  });
}

function nextText({ judgement, analysis }: Diagnosis): string {
  const { next, nextSentence } = judgement;
  if (next.best.length === 0) return paragraph(nextSentence);
  return (
    paragraph(nextSentence) +
    table(
      [say("cli.head.next"), say("cli.head.sd.now"), say("cli.head.sd.after"), say("cli.head.gain")],
      next.best.map(({ lineKey, beforeM, afterM, share }) => [
        lineName(analysis.wing, lineKey),
        lengthFigure(beforeM, 1),
        lengthFigure(afterM, 1),
        `${figure(100 * share)} %`,
      ]),
    )
  );
}

const ANGLES: readonly (readonly [
  name: Key,
  of: keyof Pick<IncidenceBands, "mean" | "left" | "right" | "leftLessRight">,
])[] = [
  ["cli.angle.mean", "mean"],
  ["cli.angle.left", "left"],
  ["cli.angle.right", "right"],
  ["cli.angle.difference", "leftLessRight"],
];

function incidenceText({ judgement, analysis }: Diagnosis): string {
  const { bands } = judgement;
  if (bands === undefined || analysis.measured?.converged !== true) return "";
  const rows = ANGLES.flatMap(([name, of]) => {
    const band = bands[of];
    return band === undefined ? [] : [[say(name), ...bandCells(band)]];
  });
  if (rows.length === 0) return "";
  return (
    table(
      [
        say("cli.head.degrees"),
        say("cli.head.measured"),
        say("cli.head.band.from"),
        say("cli.head.band.to"),
        say("cli.head.band.readings"),
        say("cli.head.band.assumptions"),
      ],
      rows,
    ) + paragraph(say("cli.incidence.band"))
  );
}

function bandCells({ measuredRad, combined95, drawn95, assumptionsRad }: AngleBand): string[] {
  return [
    signed(inDegrees(measuredRad), 2),
    signed(inDegrees(combined95.low), 2),
    signed(inDegrees(combined95.high), 2),
    figure(inDegrees((drawn95.high - drawn95.low) / 2), 2),
    figure(inDegrees(assumptionsRad), 2),
  ];
}
