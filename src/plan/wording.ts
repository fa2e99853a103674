/** Small helps for the sentences of problems. */
import { listed as listedAll, say, typedLength } from "../words/index.ts";
import type { Problem, Row, Side } from "./model.ts";

/** Where in the file a half stands, and what to call its parts. */
export interface HalfPlace {
  /** `sides.mirrored`, `sides.left`, `sides.right`. */
  readonly where: string;
  /** undefined for a half that holds for both sides. */
  readonly side: Side | undefined;
}

export function problem(
  severity: Problem["severity"],
  where: string,
  subject: string | undefined,
  message: string,
  remedy: string,
): Problem {
  return { severity, where, subject, message, remedy };
}

/** `Line A1`, or `Left line A1` where the sides are spelled out. */
export function called(place: HalfPlace, kind: "line" | "tab", id: string): string {
  return say("plan.called", { side: place.side ?? "none", kind, id });
}

/** `A`, `A and B`, `A, B and C`; beyond `most` the rest is counted. */
export function listed(names: readonly string[], most = 8): string {
  return names.length > most
    ? say("plan.listed.more", { names: names.slice(0, most).join(", "), count: names.length - most })
    : listedAll(names);
}

/** Millimetres with at most one decimal. */
export function millimetres(mm: number): string {
  return typedLength(mm / 1000);
}

/** Levenshtein distance without regard to case. */
function distance(a: string, b: string): number {
  const from = a.toLowerCase();
  const to = b.toLowerCase();
  let row = Array.from({ length: to.length + 1 }, (_, index) => index);
  for (let i = 1; i <= from.length; i++) {
    const next = [i];
    for (let j = 1; j <= to.length; j++) {
      const swap = (row[j - 1] ?? 0) + (from[i - 1] === to[j - 1] ? 0 : 1);
      next.push(Math.min(swap, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[to.length] ?? 0;
}

/** The known names closest to one that isn't known; none if nothing is close. */
export function nearest(name: string, known: Iterable<string>): readonly string[] {
  let best = Math.max(1, Math.floor(name.length / 3));
  let names: string[] = [];
  for (const candidate of known) {
    const away = distance(name, candidate);
    if (away > best) continue;
    if (away < best) names = [];
    best = away;
    names.push(candidate);
  }
  return names;
}

/** ` Did you mean A1 or A2?`, or nothing where the guess would be too wide. */
export function didYouMean(names: readonly string[]): string {
  if (names.length === 0 || names.length > 3) return "";
  return ` ${say("plan.did-you-mean", { names: listedAll(names, "or") })}`;
}

/** Median; undefined of nothing. */
export function median(values: readonly number[]): number | undefined {
  const sorted = [...values].sort((a, b) => a - b);
  const high = sorted[Math.floor(sorted.length / 2)];
  const low = sorted[Math.floor((sorted.length - 1) / 2)];
  return high === undefined || low === undefined ? undefined : (high + low) / 2;
}

/** A row among others in a sentence: `A`, `tip`, `brake`. */
export function rowWord(row: Row): string {
  return say("plan.row", { row });
}
