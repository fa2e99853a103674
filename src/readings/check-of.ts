/** A check from what a table gave, or why there is none. */
import type { Parsed, Problem } from "../plan/index.ts";
import type { CheckFrame } from "./frame.ts";
import type { Check, Reading } from "./model.ts";
import { failure, WHOLE_FILE, warning } from "./problems.ts";
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
    const message = "Every cell for a reading is empty.";
    const empty = warning(WHOLE_FILE, undefined, message, "Fill in what was read.");
    return { ok: true, value, problems: [...problems, empty] };
  }
  const message = "None of the readings can be used.";
  const none = failure(WHOLE_FILE, message, "See what is said about each of them.");
  return { ok: false, problems: [none, ...problems] };
}
