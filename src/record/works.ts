/** Days on which lines were changed: what the loop books, the present one and earlier ones, tell of it. */
import { SIDES, type Wing } from "../plan/index.ts";
import type { LoopBook } from "../workshop/index.ts";

/** Work on lines that moves their paths by a step. */
export interface Work {
  /** ISO date. */
  readonly day: string;
  readonly kind: "loops" | "replaced";
  readonly lineKeys: readonly string[];
}

/**
 * Cards give the lines that went back with another loop, on the day the card was recorded; replacements with a date give the
 * lines replaced. A card that is in several books counts once.
 */
export function worksIn(wing: Wing, books: readonly LoopBook[]): readonly Work[] {
  const lines = new Map<string, Set<string>>();
  const add = (day: string, kind: Work["kind"], lineKey: string): void => {
    const key = `${day} ${kind}`;
    const known = lines.get(key) ?? new Set<string>();
    known.add(lineKey);
    lines.set(key, known);
  };
  for (const { maillons, present, replacements } of books) {
    for (const { recorded, order, loops, closed } of maillons) {
      if (recorded === undefined) continue;
      for (const [place, lineKey] of order.entries()) {
        const now = present.get(lineKey);
        if (closed.includes(lineKey) && now !== undefined && now !== loops[place])
          add(recorded, "loops", lineKey);
      }
    }
    for (const { date, lineId, sides } of replacements) {
      if (date === undefined) continue;
      for (const line of wing.lines)
        if (line.id === lineId && sides.includes(line.side)) add(date, "replaced", line.key);
    }
  }
  return [...lines]
    .map(([key, keys]): Work => {
      const [day = "", kind] = key.split(" ");
      return { day, kind: kind as Work["kind"], lineKeys: [...keys].sort() };
    })
    .sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : a.kind < b.kind ? -1 : 1));
}

/** Which series of row means a line's change moves: row and side, and the row of both sides. */
export function touches(
  wing: Wing,
  work: Work,
): (row: string, side: (typeof SIDES)[number] | undefined) => boolean {
  const changed = new Set(work.lineKeys);
  const hit = new Set<string>();
  for (const { row, side, lineKeys } of wing.paths)
    if (lineKeys.some((key) => changed.has(key))) hit.add(`${row} ${side}`);
  return (row, side) =>
    side === undefined ? SIDES.some((each) => hit.has(`${row} ${each}`)) : hit.has(`${row} ${side}`);
}
