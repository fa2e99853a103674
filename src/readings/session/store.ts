/** A session's journal as text, written entry by entry and read back whatever a crash has left of it. */

import type { Parsed, Problem } from "../../plan/index.ts";
import { say } from "../../words/index.ts";
import { failure, fileLine, warning, wholeFile } from "../problems.ts";
import {
  entryOf,
  journalEntrySchema,
  journalLine,
  SESSION_FORMAT,
  SESSION_VERSION,
} from "./journal-schema.ts";
import type { Entry, Session } from "./model.ts";
import { replay } from "./session.ts";

/** One entry as a line of text with its end: to be appended to what is stored already. */
export function entryText(entry: Entry): string {
  return `${JSON.stringify(journalLine(entry))}\n`;
}

/** The whole journal: the lines of all its entries. */
export function journalText(session: Session): string {
  return session.journal.map(entryText).join("");
}

/**
 * A session from its journal's text. Whatever is whole is kept: of a line that a crash cut off, of one that another line was
 * written onto, of one that can't be understood the text is told in a warning, and an entry that is there twice counts once. An
 * undoing whose entry was lost takes nothing else back. Without its start (wing, frame, order) a journal can't be read: an
 * error, as is another version's.
 */
export function parseJournal(text: string): Parsed<Session> {
  const problems: Problem[] = [];
  const entries = new Map<number, Entry>();
  const lines = text.replace(/^\uFEFF/u, "").split(/\r?\n/u);
  let other: Problem | undefined;
  lines.forEach((line, i) => {
    if (line.trim() === "") return;
    const isLast = lines.slice(i + 1).every((rest) => rest.trim() === "");
    const { found, lost } = readLine(line);
    for (const value of found) {
      other ??= otherKind(value, i + 1);
      const entry = journalEntrySchema.safeParse(value);
      if (!entry.success) {
        problems.push(lostLine(i + 1, JSON.stringify(value), say("session.journal.unknown")));
        continue;
      }
      const { n } = entry.data;
      const before = entries.get(n);
      const now = entryOf(entry.data);
      if (before === undefined) entries.set(n, now);
      else if (JSON.stringify(before) !== JSON.stringify(now))
        problems.push(lostLine(i + 1, line, say("session.journal.contradicts", { entry: n })));
    }
    if (lost !== "")
      problems.push(lostLine(i + 1, lost, isLast ? say("session.journal.cut") : say("session.journal.torn")));
  });
  if (other !== undefined) return { ok: false, problems: [other] };
  const journal = [...entries.values()].sort((one, other_) => one.n - other_.n);
  if (journal[0]?.kind !== "start") {
    const message = say("session.journal.no-start");
    const remedy = say("session.journal.no-start.fix");
    return { ok: false, problems: [failure(wholeFile(), message, remedy), ...problems] };
  }
  const starts = journal.filter(({ kind }) => kind === "start");
  if (starts.length > 1) {
    const message = say("session.journal.starts", { count: starts.length });
    return { ok: false, problems: [failure(wholeFile(), message, say("session.journal.starts.fix"))] };
  }
  const missing = gaps(journal);
  if (missing.length > 0)
    problems.push(
      warning(
        wholeFile(),
        undefined,
        say("session.journal.missing", { entries: missing.join(", ") }),
        say("session.journal.missing.fix"),
      ),
    );
  return { ok: true, value: replay(journal), problems };
}

/** Whole JSON objects of a line; what is left over is lost. A torn entry may have the next one written onto it. */
function readLine(line: string): { readonly found: readonly unknown[]; readonly lost: string } {
  const whole = json(line);
  if (whole !== undefined) return { found: [whole], lost: "" };
  // A `{"n":` within a typed text would have its quotes escaped.
  for (const { index } of line.matchAll(/\{"n":/gu)) {
    if (index === 0) continue;
    const rest = json(line.slice(index));
    if (rest === undefined) continue;
    const before = readLine(line.slice(0, index));
    return { found: [...before.found, rest], lost: before.lost };
  }
  return { found: [], lost: line };
}

function json(text: string): unknown {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === "object" && value !== null ? value : undefined;
  } catch {
    return undefined;
  }
}

function otherKind(value: unknown, line: number): Problem | undefined {
  const { format, version, kind } = value as { format?: unknown; version?: unknown; kind?: unknown };
  if (format === undefined && kind !== "start") return undefined;
  if (format !== SESSION_FORMAT) {
    const message = say("session.journal.format", {
      found: JSON.stringify(format),
      expected: SESSION_FORMAT,
    });
    return failure(fileLine(line), message, say("session.journal.format.fix"));
  }
  if (version !== SESSION_VERSION) {
    const message = say("session.journal.version", {
      found: JSON.stringify(version),
      known: SESSION_VERSION,
    });
    return failure(fileLine(line), message, say("session.journal.version.fix"));
  }
  return undefined;
}

function lostLine(line: number, text: string, why: string): Problem {
  return warning(
    fileLine(line),
    undefined,
    say("session.journal.lost", { why, text }),
    say("session.journal.lost.fix"),
  );
}

function gaps(journal: readonly Entry[]): readonly number[] {
  const known = new Set(journal.map(({ n }) => n));
  const last = journal.at(-1)?.n ?? 0;
  // A number far out is damage, not thousands of lost entries.
  const most = Math.min(last, journal.length + 100);
  return Array.from({ length: most }, (_, n) => n).filter((n) => !known.has(n));
}
