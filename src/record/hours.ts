/** Flight hours on a day, from entries of other days. */
import type { Problem } from "../plan/index.ts";
import { warning } from "../readings/problems.ts";
import { fixed, longDate, say } from "../words/index.ts";
import type { FlightHours } from "./model.ts";

type Entry = Pick<FlightHours, "day" | "totalHours">;

const MS_PER_DAY = 86_400_000;

/** Days since 1970-01-01. @throws RangeError for what isn't an ISO date */
export function dayNumber(day: string): number {
  const ms = Date.parse(`${day}T00:00:00.000Z`);
  if (Number.isNaN(ms)) throw new RangeError(`Got "${day}" when an ISO date was expected.`);
  return Math.round(ms / MS_PER_DAY);
}

/** The ISO date of a day number, taken down to whole days. */
export function dateOfDay(day: number): string {
  return new Date(Math.floor(day) * MS_PER_DAY).toISOString().slice(0, 10);
}

export interface HoursThen {
  readonly total: number;
  /** True where it lies between two entries, on the straight line between them. */
  readonly between: boolean;
}

/** Flight hours on a day: of several entries of a day the highest; before the first and after the last entry nothing is known. */
export function hoursOn(entries: readonly Entry[], day: string): HoursThen | undefined {
  const at = dayNumber(day);
  const known = perDay(entries);
  const own = known.find((entry) => entry.at === at);
  if (own !== undefined) return { total: own.totalHours, between: false };
  const before = known.filter((entry) => entry.at < at).at(-1);
  const after = known.find((entry) => entry.at > at);
  if (before === undefined || after === undefined) return undefined;
  const share = (at - before.at) / (after.at - before.at);
  return { total: before.totalHours + share * (after.totalHours - before.totalHours), between: true };
}

function perDay(entries: readonly Entry[]): readonly { readonly at: number; readonly totalHours: number }[] {
  const highest = new Map<number, number>();
  for (const { day, totalHours } of entries) {
    const at = dayNumber(day);
    highest.set(at, Math.max(totalHours, highest.get(at) ?? 0));
  }
  return [...highest].map(([at, totalHours]) => ({ at, totalHours })).sort((a, b) => a.at - b.at);
}

/** A warning for each day on which the hours are fewer than before. */
export function hoursProblems(entries: readonly Entry[]): readonly Problem[] {
  const known = perDay(entries);
  return known.flatMap((entry, place) => {
    const before = known[place - 1];
    if (before === undefined || entry.totalHours >= before.totalHours) return [];
    const message = say("record.hours.fall", {
      before: fixed(before.totalHours, 1),
      after: fixed(entry.totalHours, 1),
    });
    return [warning(longDate(dateOfDay(entry.at)), undefined, message, say("record.hours.fall.fix"))];
  });
}
