/** Small helps for the problems of readings. */

import type { Problem } from "../plan/index.ts";
import { say } from "../words/index.ts";

/** Where a problem is that concerns no single place. */
export const wholeFile = (): string => say("plan.shape.file");

/** Something that costs a reading or needs a look, but not the check. */
export function warning(
  where: string,
  subject: string | undefined,
  message: string,
  remedy: string,
): Problem {
  return { severity: "warning", where, subject, message, remedy };
}

/** Something that keeps the file from being read. */
export function failure(where: string, message: string, remedy: string): Problem {
  return { severity: "error", where, subject: undefined, message, remedy };
}

/** A physical line of a file, counted from 1, and the column by its heading. */
export function fileLine(line: number, column?: string): string {
  return say("readings.file-line", {
    line,
    column: column ?? "",
    at: column === undefined ? "line" : "column",
  });
}
