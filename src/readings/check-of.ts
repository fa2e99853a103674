/** A check from what a table gave, or why there is none. */

import type { Parsed, Problem } from "../plan/index.ts";
import { say } from "../words/index.ts";
import type { CheckFrame } from "./frame.ts";
import type { Check, Reading } from "./model.ts";
import { failure, warning, wholeFile } from "./problems.ts";
import { mergeRepeats } from "./targets.ts";

/**
 * A check of a table's readings, several of one tab or line made repeats. A table whose cells were all empty
 * (`nothingThere`) is a check without readings; one whose readings were all bad is none.
 */
export function checkOf(
  frame: CheckFrame,
  readings: readonly Reading[],
  problems: readonly Problem[],
  nothingThere: boolean,
): Parsed<Check> {
  const value: Check = { ...frame, readings: mergeRepeats(readings) };
  if (value.readings.length > 0) return { ok: true, value, problems };
  if (nothingThere) {
    const message = say("readings.empty");
    const empty = warning(wholeFile(), undefined, message, say("readings.empty.fix"));
    return { ok: true, value, problems: [...problems, empty] };
  }
  const message = say("readings.none");
  const none = failure(wholeFile(), message, say("readings.none.fix"));
  return { ok: false, problems: [none, ...problems] };
}
