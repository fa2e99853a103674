/** How far a session has come, what was left behind, and how long the rest will take. */
import type { Row, Side } from "../../plan/index.ts";
import type { Target } from "../model.ts";
import { type Entry, keyOfTarget, type Session, type TargetState } from "./model.ts";

export interface RowProgress {
  readonly row: Row;
  readonly side: Side;
  readonly total: number;
  readonly read: number;
  readonly doubtful: number;
  /** Skipped and still without a reading. */
  readonly skipped: number;
}

export interface Progress {
  readonly total: number;
  readonly read: number;
  /** In the order's first mention of each row and side. */
  readonly rows: readonly RowProgress[];
  readonly skipped: readonly Target[];
  readonly doubtful: readonly TargetState[];
  /** Time for what is left [ms]; undefined until the pace can be told. */
  readonly leftMs: number | undefined;
}

/** Intervals that the pace is taken from: the last so many, at least so many. */
const MOST_INTERVALS = 15;
const LEAST_INTERVALS = 5;
/** Longer than this, or than so many times the usual, nobody was reading. */
const PAUSE_MS = 5 * 60_000;
const PAUSE_TIMES = 4;

/** Progress over the order's targets; what was read besides isn't counted. */
export function progressOf(session: Session): Progress {
  const { order, targets } = session.state;
  const rows = new Map<string, RowProgress>();
  const skipped: Target[] = [];
  const doubtful: TargetState[] = [];
  let read = 0;
  for (const { target, row } of order.steps) {
    const one = targets.get(keyOfTarget(target));
    const isRead = one?.status === "read";
    const isDoubtful = one?.status === "doubtful";
    const isSkipped = one?.status === "open" && one.skips > 0;
    if (isRead) read++;
    if (one && isDoubtful) doubtful.push(one);
    if (isSkipped) skipped.push(target);
    const name = `${target.side} ${row}`;
    const before = rows.get(name) ?? { row, side: target.side, total: 0, read: 0, doubtful: 0, skipped: 0 };
    rows.set(name, {
      ...before,
      total: before.total + 1,
      read: before.read + (isRead ? 1 : 0),
      doubtful: before.doubtful + (isDoubtful ? 1 : 0),
      skipped: before.skipped + (isSkipped ? 1 : 0),
    });
  }
  const total = order.steps.length;
  const pace = paceMs(session.journal);
  const leftMs = pace === undefined ? undefined : pace * (total - read);
  return { total, read, rows: [...rows.values()], skipped, doubtful, leftMs };
}

/**
 * Usual time from one reading to the next [ms]: the median of the last intervals, pauses left out; undefined until there are
 * five. What was taken back took its time too.
 */
export function paceMs(journal: readonly Entry[]): number | undefined {
  const times = journal.flatMap(({ kind, atMs }) => (kind === "reading" || kind === "repeat" ? [atMs] : []));
  const intervals = times
    .slice(1)
    .map((time, i) => time - (times[i] as number))
    .filter((interval) => interval > 0 && interval <= PAUSE_MS)
    .slice(-MOST_INTERVALS);
  const usual = median(intervals);
  const kept = usual === undefined ? [] : intervals.filter((interval) => interval <= PAUSE_TIMES * usual);
  return kept.length < LEAST_INTERVALS ? undefined : median(kept);
}

function median(values: readonly number[]): number | undefined {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const upper = sorted[middle];
  if (upper === undefined || sorted.length % 2 === 1) return upper;
  return (upper + (sorted[middle - 1] as number)) / 2;
}
