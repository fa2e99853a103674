/** The searchable list of lines. */
import type { Analysis, Basis } from "../../diagnosis/model.ts";
import { ROWS, type Row, type Side } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import { type Cascade, carriesText, hangsOnText, tierName } from "./cascade.ts";

export interface LineEntry {
  readonly key: string;
  readonly id: string;
  readonly side: Side;
  readonly row: Row;
  readonly tier: string;
  readonly specifiedM: number;
  readonly deviationM: number | undefined;
  readonly basis: Basis;
  readonly carries: string;
  /** Lower-case words by which the line is found. */
  readonly words: readonly string[];
}

/** One entry a line, by row, then plan order with the left before the right. */
export function lineEntries(analysis: Analysis, cascade: Cascade): readonly LineEntry[] {
  const deviations = new Map(analysis.lines.map((line) => [line.lineKey, line]));
  const order = new Map<string, number>();
  for (const line of analysis.wing.lines) if (!order.has(line.id)) order.set(line.id, order.size);
  return analysis.wing.lines
    .map((line): LineEntry => {
      const deviation = deviations.get(line.key);
      const carries = carriesText(line, cascade);
      const tier = tierName(line);
      const above = (cascade.tabsAbove.get(line.key) ?? []).map((key) => cascade.tabs.get(key)?.id ?? key);
      return {
        key: line.key,
        id: line.id,
        side: line.side,
        row: line.row,
        tier,
        specifiedM: line.lengthM,
        deviationM: deviation?.deviationM,
        basis: deviation?.basis ?? "not measured",
        carries,
        words: [
          line.id,
          say("frame.side", { side: line.side }),
          ...tier.split(/[ ,]+/),
          ...carries.split(/[ ,]+/),
          ...above,
          hangsOnText(line, cascade),
          line.colour ?? "",
          line.materialId,
        ]
          .map((word) => word.toLowerCase())
          .filter((word) => word !== ""),
      };
    })
    .sort(
      (a, b) =>
        ROWS.indexOf(a.row) - ROWS.indexOf(b.row) ||
        (order.get(a.id) ?? 0) - (order.get(b.id) ?? 0) ||
        a.side.localeCompare(b.side),
    );
}

/**
 * Lines that answer a query: every word typed must begin one of the line's words (its name, side, tier, colour, what it hangs on, what it carries).
 * A line whose name is exactly what was typed comes first, then those whose name begins with it.
 */
export function findLines(entries: readonly LineEntry[], query: string): readonly LineEntry[] {
  const typed = query
    .toLowerCase()
    .split(/[\s,]+/)
    .filter((word) => word !== "");
  if (typed.length === 0) return entries;
  const rank = (entry: LineEntry): number => {
    const id = entry.id.toLowerCase();
    return typed.includes(id) ? 0 : typed.some((word) => id.startsWith(word)) ? 1 : 2;
  };
  return entries
    .filter((entry) => typed.every((word) => entry.words.some((own) => own.startsWith(word))))
    .map((entry, index) => ({ entry, index }))
    .sort((a, b) => rank(a.entry) - rank(b.entry) || a.index - b.index)
    .map(({ entry }) => entry);
}
