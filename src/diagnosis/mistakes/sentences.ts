/** Plain words for suspicions: what was noticed, what may have happened, what to do. */
import type { Row } from "../../plan/model.ts";
import type { Target } from "../../readings/model.ts";

/** `7421 mm`; tenths only where there are any. */
export function typedMm(valueM: number): string {
  return `${Number((valueM * 1000).toFixed(1))} mm`;
}

/** `A3 on the left`, `line AM1 on the left`. */
export function nameOf(target: Target): string {
  return `${target.kind === "line" ? "line " : ""}${target.id} on the ${target.side}`;
}

/** `row A`, `the brakes`, `the tip lines`. */
export function rowNamed(row: Row): string {
  if (row === "brake") return "the brakes";
  return row === "tip" ? "the tip lines" : `row ${row}`;
}

const ABOUT = "going by the row, its other side and the lines below";

export function slipSentence(
  target: Target,
  kind: string,
  readM: number,
  insteadM: number | undefined,
  expectedM: number,
): string {
  const found = `${nameOf(target)} was entered as ${typedMm(readM)}; about ${whole(expectedM)} is to be expected, ${ABOUT}.`;
  if (insteadM === undefined)
    return `${found} A digit seems to be missing, and which one the figure doesn't tell. Read it again; until then it can be set aside.`;
  const what: Record<string, string> = {
    "digit slip": "A single digit may be wrong, or the tape misread by a round figure",
    "digits transposed": "Two digits may stand in each other's place",
    keystroke: "A digit may be missing, or typed once too often",
    misheard: "It may have been misheard",
  };
  return `${found} ${what[kind]}: ${typedMm(insteadM)}? Read it again, or put it to ${typedMm(insteadM)} if you are sure.`;
}

export function unexplainedSentence(target: Target, readM: number, expectedM: number): string {
  return `${nameOf(target)} was entered as ${typedMm(readM)}; about ${whole(expectedM)} is to be expected, ${ABOUT}. No line changes by that much by itself. Read it again; until then it can be set aside.`;
}

export function disagreeSentence(target: Target, valuesM: readonly number[], expectedM: number): string {
  return `The readings of ${nameOf(target)} (${valuesM.map(typedMm).join(", ")}) can't all be right; about ${whole(expectedM)} is to be expected, ${ABOUT}. Read it again.`;
}

export function swapSentence(one: Target, other: Target, oneM: number, otherM: number): string {
  return `${nameOf(one)} (${typedMm(oneM)}) and ${nameOf(other)} (${typedMm(otherM)}) would both fit if they changed places. Read both again, or exchange them if you remember.`;
}

export function wrongTabSentence(target: Target, readM: number, other: Target, otherRead: boolean): string {
  const rest = otherRead
    ? `It would then count as another reading of ${nameOf(other)}, and ${nameOf(target)} has yet to be read.`
    : `${nameOf(other)} has no reading of its own; ${nameOf(target)} would then have yet to be read.`;
  return `${typedMm(readM)} doesn't fit ${nameOf(target)}, but it is what ${nameOf(other)} should read: perhaps the wrong tab was pulled or named. ${rest} Read ${nameOf(target)} again, or move the reading.`;
}

export function shiftSentence(first: Target, last: Target, count: number, onward: boolean): string {
  const where = `From ${nameOf(first)} to ${nameOf(last)}, ${count} readings`;
  return onward
    ? `${where} fit the tab after the one they were entered for: a tab seems to have been missed just before. Read ${first.id} and ${last.id} again to be sure, or move them on by one.`
    : `${where} fit the tab before the one they were entered for: a reading seems to have been entered twice. Read ${first.id} and ${last.id} again to be sure, or move them back by one.`;
}

export function stepSentence(what: string, first: Target, stepM: number, known: string | undefined): string {
  const off = `${what} read about ${whole(Math.abs(stepM))} too ${stepM < 0 ? "short" : "long"} together, more than lines are likely to change by`;
  return known === undefined
    ? `${off}. They may have been read from another point, or with the riser not set as for the rest (trimmer, strap). Read ${nameOf(first)} again from the same point as the others; if it comes out the same, it is the wing.`
    : `${off}, and just the length of ${known}: they may have been read from the other end of it. Read ${nameOf(first)} again from the right point, or take that length into account.`;
}

export function datumSentence(says: string, instead: string, first: Target): string {
  return `All rows are off by their risers' lengths: the check says that it was read from the ${says}, but the figures fit readings from the ${instead}. Read ${nameOf(first)} again, or correct where the check was read from.`;
}

export function sidesSentence(what: string): string {
  return `${what} would fit much better if left and right were exchanged: seen from behind or from the front? Read one pair again, or exchange the sides.`;
}

function whole(valueM: number): string {
  return `${Math.round(valueM * 1000)} mm`;
}
