/** Where the shell asks the core: built-in wings, and files into values. */
import { DEMO_WORK, DEMOS, demoFiles } from "../../demo/index.ts";
import { type Parsed, parsePlanText, type Wing } from "../../plan/index.ts";
import {
  type Check,
  type CheckFrame,
  defaultFrame,
  parseCheckText,
  parseReadingsCsv,
} from "../../readings/index.ts";
import { EMPTY_BOOK, type LoopBook, parseBook } from "../../workshop/index.ts";
import type { WingId } from "./choices.ts";
import { recognise } from "./intake.ts";
import type { KeptFile, Own } from "./keep.ts";

/** What a sheet of readings doesn't say by itself: date, tension, datum, zero. */
export type SheetFrame = CheckFrame;

/** The frame to begin with: the plan's tension and datum, today. */
export function suggestedFrame(wing: Wing, now: Date): SheetFrame {
  const two = (part: number): string => String(part).padStart(2, "0");
  return defaultFrame(wing, `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`);
}

export function planFrom(text: string): Parsed<Wing> {
  return parsePlanText(text);
}

/** Readings in either form; a sheet without its frame takes the plan's. */
export function readingsFrom(
  readings: { readonly text: string; readonly frame: SheetFrame | undefined },
  wing: Wing,
): Parsed<Check> {
  return recognise(readings.text) === "sheet"
    ? parseReadingsCsv(readings.text, wing, readings.frame ?? suggestedFrame(wing, new Date()))
    : parseCheckText(readings.text, wing);
}

/** The bench's book; empty where there is none. */
export function bookFrom(file: KeptFile | undefined, wing: Wing): Parsed<LoopBook> {
  return file === undefined
    ? { ok: true, value: { ...EMPTY_BOOK, wingName: wing.name }, problems: [] }
    : parseBook(file.text, wing);
}

/** A built-in wing as the files it could have come from. */
export function builtIn(id: Exclude<WingId, "own">): Own {
  const demo = DEMOS[id];
  const after = DEMO_WORK[id]?.after;
  return {
    plan: { name: `${demo.id}.plan.json`, text: JSON.stringify(demo.plan) },
    readings: { name: `${demo.id}.check.json`, text: JSON.stringify(demo.check), frame: undefined },
    ...(after === undefined
      ? {}
      : { after: { name: `${demo.id}.check-after.json`, text: JSON.stringify(after), frame: undefined } }),
    ...(demo.loops === undefined
      ? {}
      : { book: { name: `${demo.id}.loops.json`, text: JSON.stringify(demo.loops) } }),
  };
}

/** Name of a built-in wing, for the switch. */
export function builtInName(id: Exclude<WingId, "own">): string {
  return DEMOS[id].plan.wing.name;
}

/** Files of a built-in wing to take along: plan, check, and the check as a sheet where there is one. */
export function builtInFiles(id: Exclude<WingId, "own">): readonly KeptFile[] {
  return demoFiles().filter(({ name }) => name.startsWith(`${DEMOS[id].id}.`));
}
