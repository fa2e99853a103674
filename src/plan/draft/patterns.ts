/** Usual patterns to start from, by structure only. Common practice, no source. */
import type { Row } from "../model.ts";
import type { DraftSource } from "./source.ts";

export interface Pattern {
  /** What it is called in a draft. */
  readonly id: string;
  readonly name: string;
  readonly rows: DraftSource["rows"];
}

function alike(rows: readonly Row[], cascade: string): DraftSource["rows"] {
  return rows.map((row) => ({ row, cascade }));
}

const TIP = (on: string, cascade: string): DraftSource["rows"][number] => ({ row: "tip", on, cascade });

export const PATTERNS: readonly Pattern[] = [
  {
    id: "4 rows 12 tabs",
    name: "4 rows, three lower lines of 2+2: 12 tabs a row; tip line on B; brakes of four tiers",
    rows: [...alike(["A", "B", "C", "D"], "3x2+2"), TIP("B", "2"), { row: "brake", cascade: "3*(2+2)" }],
  },
  {
    id: "4 rows 10 tabs",
    name: "4 rows, lower lines of 2+2, 2+2 and 2: 10 tabs a row; tip line on B; brakes of four tiers",
    rows: [
      ...alike(["A", "B", "C", "D"], "2x2+2 2"),
      TIP("B", "2"),
      { row: "brake", cascade: "(2+2)+(2+2)" },
    ],
  },
  {
    id: "4 rows C with D",
    name: "4 rows, A and B of 3x2+2 each; C and D share their lower lines: 12 tabs a row",
    rows: [
      ...alike(["A", "B"], "3x2+2"),
      { row: "C", cascade: "6x2+D2" },
      TIP("B", "2"),
      { row: "brake", cascade: "3*(2+2)" },
    ],
  },
  {
    id: "3 rows 12 tabs",
    name: "3 rows, three lower lines of 2+2: 12 tabs a row; tip line on A; brakes of four tiers",
    rows: [...alike(["A", "B", "C"], "3x2+2"), TIP("A", "3"), { row: "brake", cascade: "3*(2+2)" }],
  },
  {
    id: "3 rows 9 tabs",
    name: "3 rows, lower lines of 2+2, 2+1 and 2: 9 tabs a row; tip line on B; brakes of three tiers",
    rows: [...alike(["A", "B", "C"], "2+2 2+1 2"), TIP("B", "2"), { row: "brake", cascade: "4*2" }],
  },
  {
    id: "2 rows 12 tabs",
    name: "2 rows, three lower lines of 2+2: 12 tabs a row; tip line on B; brakes of four tiers",
    rows: [...alike(["A", "B"], "3x2+2"), TIP("B", "2"), { row: "brake", cascade: "3*(2+2)" }],
  },
];

/** The pattern of that name, however its blanks and commas are written. */
export function patternNamed(id: string): Pattern | undefined {
  const plain = (text: string): string =>
    text
      .toLowerCase()
      .replace(/[\s,]+/gu, " ")
      .trim();
  return PATTERNS.find((pattern) => plain(pattern.id) === plain(id));
}
