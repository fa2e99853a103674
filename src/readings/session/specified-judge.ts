/** The plainest judge: the plan alone, wide open. The diagnosis has one that also knows rows, sides and slips. */
import type { Wing } from "../../plan/index.ts";
import { expectedReadingM } from "../corrections.ts";
import { lookUp } from "../lookup.ts";
import type { Expected, Judge, SoFar } from "./model.ts";
import { lengthText, phrase, targetText } from "./phrases.ts";

/** Rows shrink by centimetres; a decimetre and a half is a slip far more often than a line (common practice, no source) [m]. */
const ROOM_M = 0.15;

/** Doubts what is more than 150 mm off the plan, or more than an eighth of a short line. */
export function specifiedOnly(wing: Wing): Judge {
  const lookup = lookUp(wing);
  const expected: Judge["expected"] = (soFar, target): Expected | undefined => {
    const valueM = expectedReadingM(lookup, target, soFar.frame);
    if (valueM === undefined) return undefined;
    const roomM = Math.min(ROOM_M, (valueM - soFar.frame.instrumentZeroM) / 8);
    return { valueM, lowM: valueM - roomM, highM: valueM + roomM };
  };
  return {
    expected,
    judge: (soFar: SoFar, target, valuesM) => {
      const range = expected(soFar, target);
      const isOff = valuesM.some((valueM) => range && (valueM < range.lowM || valueM > range.highM));
      if (!isOff || range === undefined)
        return { level: "fine", reason: undefined, expected: range, better: undefined };
      const reason = phrase("session.doubt.plan", {
        target: targetText(target),
        expected: lengthText(range.valueM),
      });
      return { level: "doubtful", reason, expected: range, better: undefined };
    },
  };
}
