/** Usual patterns to start from, by structure only. Common practice, no source. */
import type { Key } from "../../words/index.ts";
import type { Row } from "../model.ts";
import type { DraftSource } from "./source.ts";

export interface Pattern {
  /** What it is called in a draft, in every language. */
  readonly id: string;
  /** The text that describes it. */
  readonly name: Key;
  readonly rows: DraftSource["rows"];
}

function alike(rows: readonly Row[], cascade: string): DraftSource["rows"] {
  return rows.map((row) => ({ row, cascade }));
}

const TIP = (on: string, cascade: string): DraftSource["rows"][number] => ({ row: "tip", on, cascade });

export const PATTERNS: readonly Pattern[] = [
  {
    id: "4 rows 12 tabs",
    name: "draft.pattern.4-rows-12-tabs",
    rows: [...alike(["A", "B", "C", "D"], "3x2+2"), TIP("B", "2"), { row: "brake", cascade: "3*(2+2)" }],
  },
  {
    id: "4 rows 10 tabs",
    name: "draft.pattern.4-rows-10-tabs",
    rows: [
      ...alike(["A", "B", "C", "D"], "2x2+2 2"),
      TIP("B", "2"),
      { row: "brake", cascade: "(2+2)+(2+2)" },
    ],
  },
  {
    id: "4 rows C with D",
    name: "draft.pattern.4-rows-c-with-d",
    rows: [
      ...alike(["A", "B"], "3x2+2"),
      { row: "C", cascade: "6x2+D2" },
      TIP("B", "2"),
      { row: "brake", cascade: "3*(2+2)" },
    ],
  },
  {
    id: "3 rows 12 tabs",
    name: "draft.pattern.3-rows-12-tabs",
    rows: [...alike(["A", "B", "C"], "3x2+2"), TIP("A", "3"), { row: "brake", cascade: "3*(2+2)" }],
  },
  {
    id: "3 rows 9 tabs",
    name: "draft.pattern.3-rows-9-tabs",
    rows: [...alike(["A", "B", "C"], "2+2 2+1 2"), TIP("B", "2"), { row: "brake", cascade: "4*2" }],
  },
  {
    id: "2 rows 12 tabs",
    name: "draft.pattern.2-rows-12-tabs",
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
