/** Suspected mistakes of measuring as the screen needs them: what was read, what it would have been, what that changes. */
import { applyCorrection } from "../../diagnosis/mistakes/apply.ts";
import type { MistakeKind, Suspicion } from "../../diagnosis/mistakes/model.ts";
import type { Wing } from "../../plan/model.ts";
import { deviations } from "../../readings/deviations.ts";
import type { Check, Target } from "../../readings/model.ts";
import { type Key, lengthNumber, say } from "../../words/index.ts";
import { sidedName } from "./format.ts";
import { plausibleText, targetName, typedText } from "./judging-words.ts";

export interface ConcernEntry {
  readonly key: string;
  readonly name: string;
  /** As typed, in the unit that is set. */
  readonly read: string;
  /** The tab that the reading belongs to, where it is another one. */
  readonly belongsTo: string | undefined;
  /** Without the mistake, for the same tab: a figure, or undefined where it isn't known. */
  readonly instead: string | undefined;
  /** What is to be expected at the tab it belongs to, to the millimetre or as fine in inches. */
  readonly expected: string;
}

/** A deviation as the check has it and as it would be [m]; undefined where there would be none. */
export interface BeforeAfter {
  readonly key: string;
  readonly name: string;
  readonly beforeM: number | undefined;
  readonly afterM: number | undefined;
}

export interface SuspicionEntry {
  readonly suspicion: Suspicion;
  readonly title: string;
  readonly sentence: string;
  readonly plausible: string;
  readonly concerns: readonly ConcernEntry[];
  /** Lines at the tabs concerned, and lines read alone. */
  readonly lineKeys: readonly string[];
}

const TITLE: Readonly<Record<MistakeKind, Key>> = {
  "neighbours swapped": "judging.mistake.neighbours",
  "sides swapped": "judging.mistake.sides",
  "tabs swapped": "judging.mistake.tabs",
  "digit slip": "judging.mistake.digit",
  "digits transposed": "judging.mistake.digits",
  keystroke: "judging.mistake.keystroke",
  misheard: "judging.mistake.misheard",
  "wrong tab": "judging.mistake.wrong-tab",
  "entries shifted": "judging.mistake.shifted",
  "another point": "judging.mistake.point",
  unexplained: "judging.mistake.unexplained",
};

/** What a kind of mistake is called on the screen. */
export function mistakeTitle(kind: MistakeKind): string {
  return say(TITLE[kind]);
}

export function suspicionEntry(wing: Wing, suspicion: Suspicion): SuspicionEntry {
  const lines = new Map(wing.lines.map((line) => [`${line.side} ${line.id}`, line.key]));
  const tabs = new Map(wing.tabs.map((tab) => [`${tab.side} ${tab.id}`, tab.lineKey]));
  const lineKey = ({ kind, side, id }: Target): string | undefined =>
    (kind === "line" ? lines : tabs).get(`${side} ${id}`);
  const targets = suspicion.concerns.map(({ target }) => target);
  return {
    suspicion,
    title: mistakeTitle(suspicion.kind),
    sentence: suspicion.sentence,
    plausible: plausibleText(suspicion.log10Odds, suspicion.concerns.length === 1 ? "one" : "several"),
    concerns: suspicion.concerns.map(
      ({ target, readM, insteadM, belongsTo, expectedM }, place): ConcernEntry => {
        return {
          key: `${place} ${targetName(target)}`,
          name: targetName(target),
          read: typedText(readM),
          belongsTo: targetName(belongsTo) === targetName(target) ? undefined : targetName(belongsTo),
          instead: insteadM === undefined ? undefined : typedText(insteadM),
          expected: lengthNumber(expectedM),
        };
      },
    ),
    lineKeys: [...new Set(targets.flatMap((target) => lineKey(target) ?? []))],
  };
}

/**
 * Deviations of all that a correction touches, before and after; only what changes. Undefined where the check is no longer
 * the one the suspicion was found on, or where there is nothing to apply.
 */
export function correctionEffect(
  wing: Wing,
  check: Check,
  suspicion: Pick<Suspicion, "correction" | "id">,
): readonly BeforeAfter[] | undefined {
  if (suspicion.correction === undefined) return undefined;
  let corrected: Check;
  try {
    corrected = applyCorrection(check, suspicion);
  } catch (fault) {
    if (fault instanceof RangeError) return undefined;
    throw fault;
  }
  const before = deviations(wing, check);
  const after = deviations(wing, corrected);
  const tabs = new Map(wing.tabs.map((tab) => [tab.key, tab]));
  const paths = before.paths.flatMap((path, place): BeforeAfter[] => {
    const beforeM = path.deviationM;
    const afterM = after.paths[place]?.deviationM;
    const tab = tabs.get(path.tabKey);
    return tab === undefined || same(beforeM, afterM)
      ? []
      : [{ key: path.tabKey, name: sidedName(tab.id, tab.side), beforeM, afterM }];
  });
  const keys = new Set([...before.lines, ...after.lines].map((line) => line.lineKey));
  const lines = [...keys].flatMap((key): BeforeAfter[] => {
    const beforeM = before.lines.find((line) => line.lineKey === key)?.deviationM;
    const afterM = after.lines.find((line) => line.lineKey === key)?.deviationM;
    const line = wing.lines.find((each) => each.key === key);
    return line === undefined || same(beforeM, afterM)
      ? []
      : [{ key, name: targetName({ kind: "line", id: line.id, side: line.side }), beforeM, afterM }];
  });
  return [...paths, ...lines];
}

function same(one: number | undefined, other: number | undefined): boolean {
  return one === other || (one !== undefined && other !== undefined && Math.abs(one - other) < 1e-9);
}
