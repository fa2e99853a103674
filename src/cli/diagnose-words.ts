/** What a diagnosis is said in: uncertainties, limits, rules, probabilities, and how a line's change is known. */

import type { Knowledge, LineAttribution } from "../diagnosis/attribution.ts";
import type { Limits } from "../diagnosis/conformance.ts";
import type { Correction, Edit, MistakeKind } from "../diagnosis/mistakes/index.ts";
import type { Analysis } from "../diagnosis/model.ts";
import { sidedName, trimmedNumber } from "../diagnosis/wording.ts";
import type { Wing } from "../plan/index.ts";
import type { Target } from "../readings/model.ts";
import { standardUncertainty } from "../readings/uncertainty.ts";
import { fixed, type Key, lengthNumber, say } from "../words/index.ts";

/** Coverage factor of every uncertainty printed: U = k·u. */
export const COVERAGE = 2;

/** Expanded uncertainty of a standard one [m], in the unit set: `1.2`. */
export function expanded(standardUncertaintyM: number): string {
  return lengthNumber(COVERAGE * standardUncertaintyM, 1);
}

/** Limits [m] in the unit set: `-10 to 12`, `at least 50`. */
export function limitsInWords({ lower, upper }: Limits): string {
  const even = lower !== undefined && upper !== undefined && Math.abs(lower + upper) < 1e-9;
  const most = lower === undefined ? (upper === undefined ? "none" : "most") : undefined;
  return say("cli.limits", {
    kind: most ?? (upper === undefined ? "least" : even ? "even" : "both"),
    lower: trimmedNumber(lower ?? 0),
    upper: trimmedNumber(upper ?? 0),
  });
}

/** A probability as a percentage, never rounded to certainty or to none. */
export function chance(probability: number): string {
  if (probability > 0.999) return `> ${fixed(99.9, 1)} %`;
  if (probability < 0.001) return `< ${fixed(0.1, 1)} %`;
  return `${fixed(100 * probability, 1)} %`;
}

/** A mistake's own tabs and lines: `A3 left`, `line AM1 right`. */
export function targetName({ kind, id, side }: Target): string {
  return say("cli.target", { kind, id, side });
}

/** What a kind of mistake is called. */
export const MISTAKES: Readonly<Record<MistakeKind, Key>> = {
  "neighbours swapped": "cli.mistake.neighbours",
  "sides swapped": "cli.mistake.sides",
  "tabs swapped": "cli.mistake.tabs",
  "digit slip": "cli.mistake.digit",
  "digits transposed": "cli.mistake.transposed",
  keystroke: "cli.mistake.keystroke",
  misheard: "cli.mistake.misheard",
  "wrong tab": "cli.mistake.wrong-tab",
  "entries shifted": "cli.mistake.shifted",
  "another point": "cli.mistake.point",
  unexplained: "cli.mistake.unexplained",
};

/** As many edits as a person looks at; JSON has them all. */
const MOST_EDITS = 8;

/** What a correction would change, as an offer: `A3 left 7412 -> 7421`. */
export function correctionText(correction: Correction): string {
  if (correction.kind === "datum") return say("cli.correction.from", { from: correction.from });
  const edits = correction.edits.slice(0, MOST_EDITS).map(editText).join("; ");
  return say("cli.correction.edits", { edits, more: Math.max(0, correction.edits.length - MOST_EDITS) });
}

function editText({ target, readM, to }: Edit): string {
  const from = `${targetName(target)} ${trimmedNumber(readM)}`;
  if (to === undefined) return say("cli.correction.aside", { from });
  const place = targetName(to.target) === targetName(target) ? "" : `${targetName(to.target)} `;
  return `${from} -> ${place}${trimmedNumber(to.valueM)}`;
}

/** How a line's change is known: in a word for the table, in a sentence for its foot. */
export const KNOWLEDGE: Readonly<Record<Knowledge, { readonly word: Key; readonly sentence: Key }>> = {
  "read alone": { word: "cli.known.alone", sentence: "cli.known.alone.means" },
  "told apart": { word: "cli.known.apart", sentence: "cli.known.apart.means" },
  "not told apart": { word: "cli.known.sum", sentence: "cli.known.sum.means" },
  "not read": { word: "cli.known.guess", sentence: "cli.known.guess.means" },
};

/** Lines whose change stands out from what is unknown of it, the largest first. */
export function linesThatChanged(lines: readonly LineAttribution[]): LineAttribution[] {
  return lines
    .filter(({ changeM, deviationM }) => Math.abs(changeM) >= COVERAGE * deviationM)
    .sort((a, b) => Math.abs(b.changeM) - Math.abs(a.changeM));
}

/**
 * Standard uncertainty of the mean of the main rows' means [m], which is what the analysis gives as the uniform part;
 * undefined where no main row was read.
 */
export function uniformUncertainty({ deviations, uncertainties }: Analysis): number | undefined {
  const rows = (["A", "B", "C", "D"] as const)
    .map((row) =>
      deviations.paths.flatMap((path, tab) =>
        path.row === row && path.deviationM !== undefined ? [tab] : [],
      ),
    )
    .filter((tabs) => tabs.length > 0);
  if (uncertainties === undefined || rows.length === 0) return undefined;
  const weights = new Map(
    rows.flatMap((tabs) => tabs.map((tab): [number, number] => [tab, 1 / (rows.length * tabs.length)])),
  );
  return standardUncertainty(uncertainties, weights);
}

/** A line as the plan calls it, with its side: `AM1 left`. A key that the plan doesn't have is given back. */
export function lineName(wing: Wing, lineKey: string): string {
  const line = wing.lines.find(({ key }) => key === lineKey);
  return line === undefined ? lineKey : sidedName(line.id, line.side);
}
