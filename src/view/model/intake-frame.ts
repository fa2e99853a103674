/** Day, tension, datum and instrument of a table: as its own comments state them, else as the plan suggests, over it what was said by hand. */
import type { Problem } from "../../plan/model.ts";
import { type CheckFrame, frameFromComments } from "../../readings/frame.ts";
import { type CellTable, cellPlace, commentsAmong } from "../../readings/tables/cells.ts";
import type { FrameAnswers } from "./intake-draft.ts";

/** The questions of the frame. */
export type FramePart = "date" | "tension" | "from" | "zero" | "instrument";

export interface FrameStart {
  readonly frame: CheckFrame;
  /** What the table states itself. */
  readonly stated: ReadonlySet<FramePart>;
  /** What it states in a way that can't be read: to be answered by hand. */
  readonly broken: ReadonlySet<FramePart>;
  readonly problems: readonly Problem[];
}

const PARTS: ReadonlySet<string> = new Set<FramePart>(["date", "tension", "from", "zero", "instrument"]);

function partOf(comment: string): FramePart | undefined {
  const key = /^#*\s*(\p{L}+)\s*:/u.exec(comment)?.[1]?.toLowerCase();
  return key !== undefined && PARTS.has(key) ? (key as FramePart) : undefined;
}

/** What the form begins with. @param suggested by the plan */
export function frameStart(table: CellTable, suggested: CheckFrame): FrameStart {
  let frame = suggested;
  const stated = new Set<FramePart>();
  const broken = new Set<FramePart>();
  const problems: Problem[] = [];
  const take = (comments: CellTable["comments"], placeOf?: (line: number) => string): void => {
    for (const comment of comments) {
      const read = frameFromComments([comment], frame, placeOf);
      const part = partOf(comment.text);
      problems.push(...read.problems);
      if (part !== undefined && read.problems.length > 0) broken.add(part);
      if (read.frame === frame) continue;
      frame = read.frame;
      if (part === undefined) continue;
      stated.add(part);
      broken.delete(part);
    }
  };
  take(table.comments);
  take(commentsAmong(table), (line) => cellPlace(table, line - 1));
  return { frame, stated, broken, problems };
}

/** The table without its settings: they stand in the form, where they may have been changed. */
export function withoutSettings(table: CellTable): CellTable {
  const comments = new Set(commentsAmong(table).map(({ line }) => line - 1));
  if (comments.size === 0 && table.comments.length === 0) return table;
  return { ...table, comments: [], rows: table.rows.map((row, at) => (comments.has(at) ? [] : row)) };
}

/** A tension is above nothing and at most this [N], a zero at most this [m]: as the check file has it. */
export const MOST_TENSION_N = 1000;
export const MOST_ZERO_M = 2;

/** What the form shows; NaN or "" where an answer is wanting. */
export function frameShown(start: FrameStart, answers: FrameAnswers): Required<FrameAnswers> {
  const { frame, broken } = start;
  return {
    date: answers.date ?? (broken.has("date") ? "" : frame.date),
    tensionN: answers.tensionN ?? (broken.has("tension") ? Number.NaN : frame.tensionN),
    from: answers.from ?? (broken.has("from") ? undefined : frame.from),
    zeroM: answers.zeroM ?? (broken.has("zero") ? Number.NaN : frame.instrumentZeroM),
    instrument: answers.instrument ?? frame.instrument ?? "",
  };
}

/** The frame as it is answered; undefined as long as something is wanting or can't be. */
export function frameAnswered(start: FrameStart, answers: FrameAnswers): CheckFrame | undefined {
  const { date, tensionN, from, zeroM, instrument } = frameShown(start, answers);
  if (date === undefined || !/^\d{4}-\d{2}-\d{2}$/.test(date) || Number.isNaN(Date.parse(date)))
    return undefined;
  if (tensionN === undefined || !(tensionN > 0 && tensionN <= MOST_TENSION_N)) return undefined;
  if (zeroM === undefined || !(Math.abs(zeroM) <= MOST_ZERO_M) || from === undefined) return undefined;
  const named = instrument?.trim() ?? "";
  return {
    ...start.frame,
    date,
    tensionN,
    from,
    instrumentZeroM: zeroM,
    instrument: named === "" ? undefined : named,
  };
}
