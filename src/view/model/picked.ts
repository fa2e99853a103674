/** What is picked out, as lines; and in words. */
import type { Analysis } from "../../diagnosis/model.ts";
import { ROWS, type Row, SIDES, type Side } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import type { Picked } from "../state/choices.ts";
import { sidedName } from "./format.ts";

/** Keys of the lines picked out; empty where the wing or its findings have no such thing. */
export function pickedLines(picked: Picked, analysis: Analysis | undefined): ReadonlySet<string> {
  if (analysis === undefined) return new Set();
  switch (picked.kind) {
    case "none":
      return new Set();
    case "line":
      return new Set(analysis.wing.lines.some((line) => line.key === picked.key) ? [picked.key] : []);
    case "finding":
      return new Set(analysis.findings.find((finding) => finding.id === picked.id)?.lineKeys);
    case "lines":
      return new Set(picked.keys.filter((key) => analysis.model.lineMember.has(key)));
    case "row":
      return new Set(analysis.wing.lines.filter((line) => line.row === picked.row).map((line) => line.key));
  }
}

/** The pick in a few words; undefined where nothing is picked. */
export function pickedText(picked: Picked, analysis: Analysis | undefined): string | undefined {
  const count = pickedLines(picked, analysis).size;
  if (analysis === undefined || count === 0) return undefined;
  switch (picked.kind) {
    case "none":
      return undefined;
    case "line": {
      const line = analysis.wing.lines.find((entry) => entry.key === picked.key);
      return line === undefined ? undefined : sidedName(line.id, line.side);
    }
    case "finding":
    case "lines":
      return say("panes.lines.count", { count });
    case "row":
      return say("panes.lines.count.row", { count, row: picked.row });
  }
}

/** Turns one member of a set on or off; the last one left stays on. */
export function toggled<T>(set: ReadonlySet<T>, member: T): ReadonlySet<T> {
  const next = new Set(set);
  if (!next.delete(member)) next.add(member);
  return next.size === 0 ? set : next;
}

/** Rows and sides that the wing has, in order. */
export function rowsOf(analysis: Analysis): readonly Row[] {
  const present = new Set(analysis.wing.lines.map((line) => line.row));
  return ROWS.filter((row) => present.has(row));
}

/** Whether a line passes the row and side filter. */
export function passes(
  line: { readonly row: Row; readonly side: Side },
  rows: ReadonlySet<Row>,
  sides: ReadonlySet<Side>,
): boolean {
  return rows.has(line.row) && sides.has(line.side);
}

/** True where the filter hides something. */
export function isFiltered(rows: ReadonlySet<Row>, sides: ReadonlySet<Side>): boolean {
  return rows.size < ROWS.length || sides.size < SIDES.length;
}
