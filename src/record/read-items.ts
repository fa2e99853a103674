/** What is kept as text, read against the wing. */
import { type Parsed, parsePlanText, type Wing } from "../plan/index.ts";
import { type Check, defaultFrame, parseCheckText, parseReadingsCsv } from "../readings/index.ts";
import { failure } from "../readings/problems.ts";
import { say } from "../words/index.ts";
import { type LoopBook, parseBook } from "../workshop/index.ts";
import type { KeptBook, KeptCheck, PlanVersion } from "./model.ts";
import { dayInText } from "./schema.ts";

export function readPlan({ text }: Pick<PlanVersion, "text">): Parsed<Wing> {
  return parsePlanText(text);
}

export function readBook({ text }: Pick<KeptBook, "text">, wing: Wing): Parsed<LoopBook> {
  return parseBook(text, wing);
}

/** A check of the wing, from a check file or a table of readings. A table needs its day, from its frame or its comments. */
export function readCheck(check: Pick<KeptCheck, "text" | "frame" | "name">, wing: Wing): Parsed<Check> {
  if (/^\s*[[{]/.test(check.text.replace(/^\uFEFF/, ""))) return parseCheckText(check.text, wing);
  if (check.frame !== undefined) return parseReadingsCsv(check.text, wing, check.frame);
  // A day that can't be: it stays only where no comment gives another.
  const read = parseReadingsCsv(check.text, wing, defaultFrame(wing, ""));
  if (!read.ok || read.value.date !== "") return read;
  const message = say("record.check.day");
  return { ok: false, problems: [failure(check.name, message, say("record.check.day.fix"))] };
}

/** The ISO date of a check, without reading all of it; undefined where its text doesn't say. */
export function checkDay(check: Pick<KeptCheck, "text" | "frame">): string | undefined {
  return dayInText(check.text) ?? check.frame?.date;
}
