/** Plain words for suspicions: what was noticed, what may have happened, what to do. */
import type { Datum, Row, Side } from "../../plan/model.ts";
import type { Target } from "../../readings/model.ts";
import { length, say } from "../../words/index.ts";
import { trimmedMm, wayOf } from "../wording.ts";
import type { Meant } from "./digits.ts";

/** `7421 mm`; tenths only where there are any. */
export function typedMm(valueM: number): string {
  return trimmedMm(valueM);
}

/** `A3 on the left`, `line AM1 on the left`. */
export function nameOf({ kind, id, side }: Target): string {
  return say("diagnosis.mistake.name", { kind, id, side });
}

/** What a figure undone would be, by slip. */
const SLIP = {
  "digit slip": "digit",
  "digits transposed": "transposed",
  keystroke: "keystroke",
  misheard: "misheard",
} as const satisfies Record<Meant["kind"], string>;

export function slipSentence(
  target: Target,
  kind: Meant["kind"],
  readM: number,
  insteadM: number | undefined,
  expectedM: number,
): string {
  const found = entered(target, readM, expectedM);
  if (insteadM === undefined) return `${found} ${say("diagnosis.mistake.lost")}`;
  return `${found} ${say("diagnosis.mistake.slip", { slip: SLIP[kind], instead: typedMm(insteadM) })}`;
}

export function unexplainedSentence(target: Target, readM: number, expectedM: number): string {
  return `${entered(target, readM, expectedM)} ${say("diagnosis.mistake.unexplained")}`;
}

function entered(target: Target, readM: number, expectedM: number): string {
  return say("diagnosis.mistake.entered", {
    name: nameOf(target),
    read: typedMm(readM),
    expected: length(expectedM),
  });
}

export function disagreeSentence(target: Target, valuesM: readonly number[], expectedM: number): string {
  return say("diagnosis.mistake.disagree", {
    name: nameOf(target),
    values: valuesM.map(typedMm).join(", "),
    expected: length(expectedM),
  });
}

export function swapSentence(one: Target, other: Target, oneM: number, otherM: number): string {
  return say("diagnosis.mistake.swap", {
    one: nameOf(one),
    oneRead: typedMm(oneM),
    other: nameOf(other),
    otherRead: typedMm(otherM),
  });
}

export function wrongTabSentence(target: Target, readM: number, other: Target, otherRead: boolean): string {
  return say("diagnosis.mistake.wrong-tab", {
    read: typedMm(readM),
    name: nameOf(target),
    other: nameOf(other),
    rest: otherRead ? "read" : "open",
  });
}

export function shiftSentence(first: Target, last: Target, count: number, onward: boolean): string {
  return say("diagnosis.mistake.shift", {
    first: nameOf(first),
    last: nameOf(last),
    count,
    way: onward ? "on" : "back",
    firstId: first.id,
    lastId: last.id,
  });
}

/** Which readings a step is in: one row on one side or on both, a side with the brakes or without, all rows with or without. */
export type Scope =
  | { readonly scope: "row"; readonly row: Row; readonly side: Side }
  | { readonly scope: "both"; readonly row: Row }
  | { readonly scope: "side" | "mainSide"; readonly side: Side }
  | { readonly scope: "main" | "all" };

/** @param known a length of the plan that the step is equal to */
export function stepSentence(
  of: Scope,
  first: Target,
  stepM: number,
  known: "pulley" | "riser" | undefined,
): string {
  return say("diagnosis.mistake.step", {
    ...of,
    step: length(Math.abs(stepM)),
    way: wayOf(stepM),
    known: known ?? "none",
    first: nameOf(first),
  });
}

/** @param says what the check says it was read from; the figures fit the other one */
export function datumSentence(says: Datum, first: Target): string {
  return say("diagnosis.mistake.datum", { says, first: nameOf(first) });
}

export function sidesSentence(of: Row | "all"): string {
  return say("diagnosis.mistake.sides", { of });
}
