/** Why a number is asked for again, in a sentence short enough to be read with a line in the hand. */
import type { Target } from "../../readings/model.ts";
import type { Better, Expected, Phrase } from "../../readings/session/model.ts";
import { lengthText, phrase, targetText } from "../../readings/session/phrases.ts";
import { type Key, length, lengthNumber } from "../../words/index.ts";

const REASONS: Readonly<Record<Better["kind"], Key>> = {
  digit: "diagnosis.doubt.digit",
  "hundred off": "diagnosis.doubt.hundred-off",
  transposed: "diagnosis.doubt.transposed",
  keystroke: "diagnosis.doubt.keystroke",
  misheard: "diagnosis.doubt.misheard",
  mirror: "diagnosis.doubt.elsewhere",
  neighbour: "diagnosis.doubt.elsewhere",
  "other row": "diagnosis.doubt.other-row",
  elsewhere: "diagnosis.doubt.elsewhere",
  "short form": "diagnosis.doubt.short-form",
};

/** The better tale where one is known, or else how far off the number is. */
export function doubtReason(
  target: Target,
  valueM: number,
  expected: Expected,
  better: Better | undefined,
): Phrase {
  const values = {
    target: targetText(target),
    typed: lengthText(valueM),
    expected: length(expected.valueM),
    low: lengthNumber(expected.lowM),
    high: length(expected.highM),
  };
  if (better === undefined)
    return phrase(valueM < expected.valueM ? "diagnosis.doubt.shorter" : "diagnosis.doubt.longer", {
      ...values,
      off: length(Math.abs(valueM - expected.valueM)),
    });
  return phrase(REASONS[better.kind], {
    ...values,
    step: length(Math.abs(better.valueM - valueM)),
    better: lengthText(better.valueM),
    other: targetText(better.target),
  });
}
