/** Why a number is asked for again, in a sentence short enough to be read with a line in the hand. */
import type { Target } from "../../readings/model.ts";
import type { Better, Expected, Phrase } from "../../readings/session/model.ts";
import { lengthText, phrase, targetText } from "../../readings/session/phrases.ts";

const PATTERNS: Readonly<Record<Better["kind"], string>> = {
  digit: "{better}? A digit may be wrong. Read {target} again.",
  "hundred off": "{better}? It is a round {step} off. Read {target} again.",
  transposed: "{better}? Two digits may have changed places. Read {target} again.",
  keystroke: "A digit may be missing or typed twice: about {expected} was expected. Read {target} again.",
  misheard: "{better}? It may have been misheard. Read {target} again.",
  mirror: "{typed} is what {other} should read. Read {target} again.",
  neighbour: "{typed} is what {other} should read. Read {target} again.",
  "other row": "{typed} is what {other} should read: the right row? Read {target} again.",
  elsewhere: "{typed} is what {other} should read. Read {target} again.",
  "short form": "{better}? Type {target} in full.",
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
    expected: `${Math.round(expected.valueM * 1000)} mm`,
    low: `${Math.round(expected.lowM * 1000)}`,
    high: `${Math.round(expected.highM * 1000)} mm`,
  };
  if (better === undefined) {
    const off = `${Math.round(Math.abs(valueM - expected.valueM) * 1000)} mm`;
    const said = { ...values, off };
    return valueM < expected.valueM
      ? phrase(
          "session.doubt.shorter",
          "{off} shorter than the lines around suggest ({low} to {high}). Read {target} again.",
          said,
        )
      : phrase(
          "session.doubt.longer",
          "{off} longer than the lines around suggest ({low} to {high}). Read {target} again.",
          said,
        );
  }
  const step = `${Math.round(Math.abs(better.valueM - valueM) * 1000)} mm`;
  return phrase(`session.doubt.${better.kind.replace(/ /gu, "-")}`, PATTERNS[better.kind], {
    ...values,
    step,
    better: lengthText(better.valueM),
    other: targetText(better.target),
  });
}
