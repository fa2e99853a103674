/** What a diagnosis is said in: uncertainties, limits, rules, probabilities, and how a line's change is known. */
import type { Knowledge, LineAttribution } from "../diagnosis/attribution.ts";
import type { Limits } from "../diagnosis/conformance.ts";
import type { Correction, Edit, MistakeKind } from "../diagnosis/mistakes/index.ts";
import type { Analysis } from "../diagnosis/model.ts";
import type { Wing } from "../plan/index.ts";
import type { Target } from "../readings/model.ts";
import { standardUncertainty } from "../readings/uncertainty.ts";
import { figure } from "./table.ts";

/** Coverage factor of every uncertainty printed: U = k·u. */
export const COVERAGE = 2;

/** Expanded uncertainty of a standard one [m], in millimetres: `1.2`. */
export function expanded(standardUncertaintyM: number, digits = 1): string {
  return figure(1000 * COVERAGE * standardUncertaintyM, digits);
}

/** Limits [m] in millimetres: `-10 to +10`, `at least 50`. */
export function limitsInWords({ lower, upper }: Limits): string {
  const plain = (valueM: number): string => String(Number((1000 * valueM).toFixed(1)));
  if (lower === undefined) return upper === undefined ? "none" : `at most ${plain(upper)}`;
  if (upper === undefined) return `at least ${plain(lower)}`;
  return Math.abs(lower + upper) < 1e-9 ? `±${plain(upper)}` : `${plain(lower)} to ${plain(upper)}`;
}

/** A probability as a percentage, never rounded to certainty or to none. */
export function chance(probability: number): string {
  if (probability > 0.999) return "> 99.9 %";
  if (probability < 0.001) return "< 0.1 %";
  return `${(100 * probability).toFixed(1)} %`;
}

/** A mistake's own tabs and lines: `A3 left`, `line AM1 right`. */
export function targetName({ kind, id, side }: Target): string {
  return `${kind === "line" ? "line " : ""}${id} ${side}`;
}

/** What a kind of mistake is called. */
export const MISTAKES: Readonly<Record<MistakeKind, string>> = {
  "neighbours swapped": "neighbours exchanged",
  "sides swapped": "left and right exchanged",
  "tabs swapped": "two tabs exchanged",
  "digit slip": "a wrong digit",
  "digits transposed": "two digits exchanged",
  keystroke: "a digit too few or too many",
  misheard: "misheard",
  "wrong tab": "read at another tab",
  "entries shifted": "entries slipped by one",
  "another point": "read from another point",
  unexplained: "hardly a real line",
};

/** As many edits as a person looks at; JSON has them all. */
const MOST_EDITS = 8;

/** What a correction would change, as an offer: `A3 left 7412 -> 7421`. */
export function correctionText(correction: Correction): string {
  if (correction.kind === "datum") return `read from the ${correction.from}`;
  const some = correction.edits.slice(0, MOST_EDITS).map(editText).join("; ");
  const more = correction.edits.length - MOST_EDITS;
  return more > 0 ? `${some}; and ${more} more (--json has all)` : some;
}

function editText({ target, readM, to }: Edit): string {
  const typed = (valueM: number): string => String(Number((1000 * valueM).toFixed(1)));
  const from = `${targetName(target)} ${typed(readM)}`;
  if (to === undefined) return `${from} set aside`;
  const place = targetName(to.target) === targetName(target) ? "" : `${targetName(to.target)} `;
  return `${from} -> ${place}${typed(to.valueM)}`;
}

/** How a line's change is known, for the foot of the table. */
export const KNOWLEDGE: Readonly<Record<Knowledge, string>> = {
  "read alone": "the line itself was read",
  "told apart": "worked out from the paths through it and from how lines usually age",
  "not told apart":
    "the readings give only its sum with its partners, how that divides is a guess from how lines usually age",
  "not read": "no reading runs through it, a guess from its row alone",
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
  return line === undefined ? lineKey : `${line.id} ${line.side}`;
}
