/** A diagnosis for people: what matters first, each figure with its uncertainty, the cautions last. */
import type { AngleBand, IncidenceBands } from "../diagnosis/bands.ts";
import { travelOnLines } from "../diagnosis/brake-travel.ts";
import type { Suspicion } from "../diagnosis/mistakes/index.ts";
import { statesAtTrim } from "../diagnosis/states.ts";
import { sayTravelApart } from "../diagnosis/wording.ts";
import type { Wing } from "../plan/index.ts";
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
import { WING_CAUTION } from "./messages.ts";
import { figure, paragraph, signed, table } from "./table.ts";
import { findingText, frameText, inDegrees, rowTable } from "./wing-report.ts";

/** What a person looks at; JSON has all lines and all partners. */
const MOST_LINES = 15;
const MOST_PARTNERS = 3;
/** A reading that the estimate misses by more of its own standard deviations is worth repeating. */
const REPEAT_BEYOND = 3;

export function diagnosisText(diagnosis: Diagnosis): string {
  const { analysis, assessment, check } = diagnosis;
  const sections = [
    frameText(analysis.wing, check) +
      `Figures behind ± are expanded uncertainties, k = ${COVERAGE} (about 95 %), unless another is named.\n`,
    titled("Findings", analysis.findings.map(findingText).join("\n")),
    titled("Decisions", decisionsText(assessment) + travelText(diagnosis)),
    titled("What the readings are taken to be uncertain by", settingsText(diagnosis.uncertainties)),
    titled("Rows", rowTable(analysis.rows)),
    titled("Row against row: mean of the front row less mean of the rear one", matrixText(assessment)),
    titled("Left less right: means by row", sidesText(assessment)),
    titled("What all main rows share", uniformText(diagnosis)),
    titled("Suspected mistakes of measuring", mistakesText(diagnosis)),
    titled("Lines that have changed most", linesText(diagnosis)),
    titled("What to read next", nextText(diagnosis)),
    titled("Incidence by the model, against the specified wing", incidenceText(diagnosis)),
    paragraph(WING_CAUTION),
  ];
  return sections.filter((section) => section !== "").join("\n");
}

/** A section under its title; nothing where there is nothing to say. */
function titled(title: string, text: string): string {
  return text === "" ? "" : `${title}\n${"-".repeat(title.length)}\n${text}`;
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
  const done = analysis.uniformRemoved
    ? "It was taken out of every main path before all else here; the brakes stay as read."
    : "It stays with the lines here; --remove-uniform takes it out of every main path.";
  return paragraph(
    `${signed(1000 * analysis.uniformM, 1)} ± ${expanded(standardM)} mm, the mean of the rows' means, A to D: from totals alone it can't be told whether the wing ` +
      `or the measuring point is off by that much. ${done}`,
  );
}

function mistakesText({ judgement, uncertainties, analysis }: Diagnosis): string {
  const { mistakes, attribution } = judgement;
  const tabName = (key: string): string => {
    const tab = analysis.wing.tabs.find((each) => each.key === key);
    return tab === undefined ? key : `${tab.id} ${tab.side}`;
  };
  const odd = attribution.residuals.filter(({ normalised }) => Math.abs(normalised) > REPEAT_BEYOND);
  const parts = [
    mistakes.length === 0
      ? paragraph(
          "None stands out. A mistake of a few millimetres can't be told from a line that is off by them.",
        )
      : mistakes.map((each) => mistakeText(each)).join(""),
    uncertainties.doubtfulTabKeys.length === 0
      ? ""
      : paragraph(`Repeats disagree, read again: ${uncertainties.doubtfulTabKeys.map(tabName).join(", ")}.`),
    odd.length === 0
      ? ""
      : paragraph(
          "Readings that fit the others badly, worth repeating: " +
            `${odd.map(({ kind, key }) => (kind === "tab" ? tabName(key) : `line ${lineName(analysis.wing, key)}`)).join(", ")}.`,
        ),
    mistakes.length === 0
      ? ""
      : paragraph("Nothing was changed: all figures here are from the readings as they stand in the file."),
  ];
  return parts.join("");
}

function mistakeText(suspicion: Suspicion, indent = ""): string {
  const { kind, concerns, probability, offer, correction, alternatives, sentence } = suspicion;
  const names = [...new Set(concerns.map(({ target }) => targetName(target)))];
  const few = names.length > 6 ? `${names.length} readings` : names.join(", ");
  const offered =
    correction === undefined
      ? "Only reading again helps."
      : `Offered${offer === "read again" ? " once read again" : ""}: ${correctionText(correction)}.`;
  return [
    `${indent}${MISTAKES[kind]}: ${few}; probability among its alternatives ${chance(probability)}\n`,
    paragraph(`${sentence} ${offered}`, `${indent}  `),
    ...alternatives.map((other) => `${indent}  or ${mistakeText(other, `${indent}  `).trimStart()}`),
  ].join("");
}

function linesText({ judgement, analysis }: Diagnosis): string {
  const { wing } = analysis;
  const changed = linesThatChanged(judgement.attribution.lines);
  if (changed.length === 0)
    return paragraph(
      `No line's change stands out from what is unknown of it (${COVERAGE} standard deviations). All lines are in --json.`,
    );
  const shown = changed.slice(0, MOST_LINES);
  const known = [...new Set(shown.map(({ knowledge }) => knowledge))];
  const more = changed.length - shown.length;
  return [
    table(
      ["line", "change", "± sd", "known", "not told apart from"],
      shown.map(({ lineKey, changeM, deviationM, knowledge, partners }) => [
        lineName(wing, lineKey),
        signed(1000 * changeM, 1),
        figure(1000 * deviationM, 1),
        knowledge,
        partnersText(
          wing,
          partners.map((partner) => partner.lineKey),
        ),
      ]),
    ),
    paragraph(
      `sd: standard deviation. ${known.map((each) => `${upperFirst(each)}: ${KNOWLEDGE[each]}.`).join(" ")}` +
        (more > 0 ? ` ${more} more lines stand out; --json has all.` : ""),
    ),
  ].join("");
}

function upperFirst(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

function partnersText(wing: Wing, keys: readonly string[]): string {
  const more = keys.length - MOST_PARTNERS;
  const some = keys.slice(0, MOST_PARTNERS).map((key) => lineName(wing, key));
  return `${some.join(", ")}${more > 0 ? ` and ${more} more` : ""}`;
}

function nextText({ judgement, analysis }: Diagnosis): string {
  const { next, nextSentence } = judgement;
  if (next.best.length === 0) return paragraph(nextSentence);
  return (
    paragraph(nextSentence) +
    table(
      ["line alone, each after those above", "sd now", "sd after", "off the unknown of all"],
      next.best.map(({ lineKey, beforeM, afterM, share }) => [
        lineName(analysis.wing, lineKey),
        figure(1000 * beforeM, 1),
        figure(1000 * afterM, 1),
        `${(100 * share).toFixed(0)} %`,
      ]),
    )
  );
}

const ANGLES: readonly (readonly [
  name: string,
  of: keyof Pick<IncidenceBands, "mean" | "left" | "right" | "leftLessRight">,
])[] = [
  ["mean of all ribs", "mean"],
  ["left", "left"],
  ["right", "right"],
  ["left less right", "leftLessRight"],
];

function incidenceText({ judgement, analysis }: Diagnosis): string {
  const { bands } = judgement;
  if (bands === undefined || analysis.measured?.converged !== true) return "";
  const rows = ANGLES.flatMap(([name, of]) => {
    const band = bands[of];
    return band === undefined ? [] : [[name, ...bandCells(band)]];
  });
  if (rows.length === 0) return "";
  return (
    table(["degrees", "measured", "95 % from", "to", "readings ±", "assumptions ±"], rows) +
    paragraph(
      "Nose-up positive. The band takes the readings' uncertainty and the model's assumptions together; it is around the " +
        "lines' most likely changes, so the measured state needn't stand in its middle. Each rib's is in --json.",
    )
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
