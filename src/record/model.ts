/**
 * What is kept of every wing over the years: plan versions, checks, loop books, notes, flight hours, photos, and when to look
 * again. Plain read-only values. Texts are the files as they were brought or written, so that nothing is lost in keeping
 * them and an older or newer program reads them as it can.
 *
 * Ids are random and come from outside; an instant is ISO 8601 in UTC (`2026-03-14T09:30:00.000Z`), a day an ISO date.
 */
import type { CheckFrame } from "../readings/index.ts";

/** Version of the record's own format, as this program keeps it. */
export const RECORD_VERSION = 2;

/** The instant of something whose time is lost; counts as before any other where the newer wins. */
export const UNKNOWN_TIME = "0000-01-01T00:00:00.000Z";

export interface Item {
  /** Unique among the wing's items of one kind; the same on every device that the item came to. */
  readonly id: string;
  /** Instant of the last change. */
  readonly changedAt: string;
  /** Id of the item that this one was found to differ from although both had one id: for the person to look at. */
  readonly differsFrom?: string | undefined;
}

/** An item that may be changed in place. */
export interface EditedItem extends Item {
  /**
   * The states before, each with its instant and a mark of what it said: tells a later state of the same from one that was
   * changed elsewhere.
   */
  readonly earlier?: readonly string[] | undefined;
}

/** An item that is never overwritten: only its name and remark may change. */
export interface LastingItem extends Item {
  readonly addedAt: string;
  /** Name of the file. */
  readonly name: string;
}

export interface PlanVersion extends LastingItem {
  /** The plan file. */
  readonly text: string;
  /** What was changed against the version before, in words. */
  readonly changed?: string | undefined;
}

export interface KeptCheck extends LastingItem {
  /** The check file, or a table of readings. */
  readonly text: string;
  /** What a table doesn't say itself. */
  readonly frame?: CheckFrame | undefined;
}

export interface Photo extends LastingItem {
  /** Media type: `image/jpeg`. */
  readonly type: string;
  readonly bytes: Uint8Array;
  /** What it shows. */
  readonly about?: string | undefined;
}

/** The loop book: present loops, cards, replacements. The last changed one holds; earlier ones tell of earlier work. */
export interface KeptBook extends EditedItem {
  readonly name: string;
  /** The loop book's file. */
  readonly text: string;
}

export interface Note extends EditedItem {
  readonly day: string;
  readonly text: string;
}

export interface FlightHours extends EditedItem {
  readonly day: string;
  /** Hours flown since the wing was new, on that day. */
  readonly totalHours: number;
}

/** A single value that the last change decides. */
export interface Stamped<T> {
  readonly value: T;
  readonly changedAt: string;
}

/** One wing's record. Lists are in the order of time, then of ids. */
export interface WingRecord {
  readonly id: string;
  readonly name: Stamped<string>;
  /** No two with the same content: who goes back to an earlier version has it in use again. */
  readonly plans: readonly PlanVersion[];
  /** Id of the plan version in use; the last added where left out. */
  readonly planInUse?: Stamped<string> | undefined;
  /** No two with the same content. */
  readonly checks: readonly KeptCheck[];
  readonly books: readonly KeptBook[];
  readonly notes: readonly Note[];
  readonly hours: readonly FlightHours[];
  readonly photos: readonly Photo[];
  /** Day on which the next check is due; null where that was taken back. */
  readonly nextCheck?: Stamped<string | null> | undefined;
}

/** Everything that is kept. */
export interface WingRecords {
  readonly version: typeof RECORD_VERSION;
  readonly wings: readonly WingRecord[];
}

export const NO_RECORDS: WingRecords = { version: RECORD_VERSION, wings: [] };

/** The plan version in use; undefined without any. */
export function planInUse(wing: WingRecord): PlanVersion | undefined {
  return wing.plans.find(({ id }) => id === wing.planInUse?.value) ?? wing.plans.at(-1);
}

/** The loop book that holds: the last changed; undefined without any. */
export function bookInUse(wing: WingRecord): KeptBook | undefined {
  return wing.books.reduce<KeptBook | undefined>(
    (last, book) => (last === undefined || timeOf(book.changedAt) >= timeOf(last.changedAt) ? book : last),
    undefined,
  );
}

/** Milliseconds of an instant, for comparing; what is lost or can't be read counts as before any other. */
export function timeOf(instant: string): number {
  const time = instant === UNKNOWN_TIME ? Number.NaN : Date.parse(instant);
  return Number.isNaN(time) ? Number.NEGATIVE_INFINITY : time;
}
