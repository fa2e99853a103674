/** Files named on the command line, read and parsed. */
import { trimmed, trimmedMm } from "../diagnosis/wording.ts";
import { type Datum, type Parsed, parsePlanText, type Wing } from "../plan/index.ts";
import { type Check, defaultFrame, parseCheckText } from "../readings/index.ts";
import { say } from "../words/index.ts";
import { EMPTY_BOOK, type LoopBook, parseBook } from "../workshop/index.ts";
import { type Io, UsageError } from "./io.ts";
import type { Arguments, OptionSpecs } from "./options.ts";
import { isWorkbook, readTextTable, readWorkbook, TABLE_OPTIONS } from "./tables-in.ts";

/** Options that say how readings were taken, for the commands that take readings. */
export const READING_OPTIONS: OptionSpecs = {
  date: { type: "string" },
  tension: { type: "string" },
  from: { type: "string" },
  zero: { type: "string" },
  ...TABLE_OPTIONS,
};

/** The part of a help text on how readings are given. */
export function readingHelp(): string {
  return say("cli.help.readings");
}

/** A day of the calendar, written YYYY-MM-DD: the 31st of February isn't one, though JavaScript reads it as March. */
function isDay(text: string): boolean {
  const time = /^\d{4}-\d\d-\d\d$/.test(text) ? Date.parse(text) : Number.NaN;
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(text);
}

/**
 * The bytes of a file.
 * @throws UsageError naming the path, where it can't be read.
 */
export function readFileBytes(path: string, io: Io): Uint8Array {
  try {
    return io.readBytes(path);
  } catch (error) {
    throw new UsageError(say("cli.file.read", { path, ...reason(error) }));
  }
}

/**
 * The text of a file, or of standard input for "-".
 * @throws UsageError naming the path, where it can't be read.
 */
export async function readText(path: string, io: Io): Promise<string> {
  if (path === "-") return withoutMark(await io.readStdin());
  try {
    return withoutMark(io.readFile(path));
  } catch (error) {
    throw new UsageError(say("cli.file.read", { path, ...reason(error) }));
  }
}

/** @throws UsageError naming the path, where it can't be written. */
export function writeText(path: string, text: string, io: Io): void {
  try {
    io.writeFile(path, text);
  } catch (error) {
    throw new UsageError(say("cli.file.write", { path, ...reason(error) }));
  }
}

/** Which of the reasons that are told in words, and the system's own word for any other. */
function reason(error: unknown): { readonly reason: string; readonly message: string } {
  const { code, message } = error as Error & { code?: string };
  return { reason: code ?? "other", message };
}

function withoutMark(text: string): string {
  return text.startsWith("\uFEFF") ? text.slice(1) : text;
}

export async function readPlan(path: string, io: Io): Promise<Parsed<Wing>> {
  return parsePlanText(await readText(path, io));
}

/** What the bench keeps of the wing's loops; an empty book where no file is given. */
export async function readBook(path: string | undefined, wing: Wing, io: Io): Promise<Parsed<LoopBook>> {
  if (path === undefined) return { ok: true, value: EMPTY_BOOK, problems: [] };
  return parseBook(await readText(path, io), wing);
}

/**
 * Readings from a check file or a table: told apart by the first characters, since a check file is a JSON object
 * and a workbook an archive.
 * What the options state goes before what the file states; what neither states is the plan's reference. How a
 * table was taken is said on standard error, since much of it may be assumed.
 */
export async function readCheck(path: string, wing: Wing, given: Arguments, io: Io): Promise<Parsed<Check>> {
  const text = await readText(path, io);
  const stated = statedFrame(given);
  const frame = { ...defaultFrame(wing, io.today), ...stated };
  const workbook = isWorkbook(text);
  if (workbook && path === "-") throw new UsageError(say("cli.file.workbook"));
  const isTable = workbook || !text.trimStart().startsWith("{");
  const parsed = workbook
    ? await readWorkbook(readFileBytes(path, io), wing, frame, given)
    : isTable
      ? readTextTable(text, wing, frame, given)
      : parseCheckText(text, wing);
  if (!parsed.ok) return parsed;
  const check = { ...parsed.value, ...stated };
  if (isTable) {
    io.err(
      `linewright: ${say("cli.readings.taken", {
        date: check.date,
        tension: trimmed(check.tensionN, 3),
        from: check.from,
        zero: trimmedMm(check.instrumentZeroM, 3),
      })}\n`,
    );
  }
  return { ...parsed, value: check };
}

interface Frame {
  date?: string;
  tensionN?: number;
  from?: Datum;
  instrumentZeroM?: number;
}

/** What the options state; nothing for what they don't. */
function statedFrame(given: Arguments): Frame {
  const frame: Frame = {};
  const date = given.text("date");
  if (date !== undefined) {
    if (!isDay(date)) {
      throw new UsageError(say("cli.date", { date }));
    }
    frame.date = date;
  }
  const tensionN = given.number("tension", "N");
  if (tensionN !== undefined) {
    if (!(tensionN > 0)) throw new UsageError(say("cli.option.above", { option: "--tension", unit: "N" }));
    frame.tensionN = tensionN;
  }
  const from = given.text("from");
  if (from !== undefined) {
    if (from !== "riser" && from !== "maillon") throw new UsageError(say("cli.from", { from }));
    frame.from = from;
  }
  const zeroMm = given.number("zero", "mm");
  if (zeroMm !== undefined) frame.instrumentZeroM = zeroMm / 1000;
  return frame;
}
