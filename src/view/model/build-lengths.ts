/** Lengths that a table gave, in the draft's statements; and how far a draft has its lengths. */
import type { Draft, LengthTable } from "../../plan/draft/index.ts";
import { writeNumberList } from "../../plan/draft/number-list.ts";
import { LINE_KINDS, ROW_PREFIXES } from "../../plan/draft/source.ts";
import { ROWS, type Row } from "../../plan/model.ts";
import { type Head, headed, statement, withStatement } from "./build-statements.ts";

/** The text with a table's lengths in its statements; lengths of others stay as they were typed. */
export function withTable(text: string, draft: Draft, table: LengthTable): string {
  let written = text;
  for (const row of ROWS) {
    const put = (
      head: Head,
      before: readonly { readonly number: number; readonly mm: number }[],
      now: readonly { readonly number: number; readonly mm: number }[],
    ): void => {
      if (now.length === 0) return;
      const values: (number | undefined)[] = [];
      for (const { number, mm } of [...before, ...now]) values[number - 1] = mm;
      written = withStatement(
        written,
        headed(head),
        statement(head, writeNumberList(Array.from(values))),
      ).text;
    };
    const prefix = ROW_PREFIXES[row];
    const inRow = <T extends { readonly row: Row }>(all: readonly T[] | undefined): readonly T[] =>
      (all ?? []).filter((one) => one.row === row);
    put(`totals ${prefix}`, inRow(draft.source.totals), inRow(table.totals));
    for (const kind of LINE_KINDS) {
      const ofKind = (all: LengthTable["lengths"]): LengthTable["lengths"] =>
        inRow(all).filter((one) => one.kind === kind);
      put(`${kind} ${prefix}`, ofKind(draft.source.lengths ?? []), ofKind(table.lengths));
    }
  }
  return written;
}

/** How many of a row's tabs have a total, or lengths of all their lines. */
export interface Coverage {
  readonly row: Row;
  readonly given: number;
  readonly tabs: number;
}

export function coverageOf(draft: Draft): readonly Coverage[] {
  return ROWS.flatMap((row): Coverage[] => {
    const tabs = draft.tabs.filter((tab) => tab.row === row);
    if (tabs.length === 0) return [];
    const complete = (line: number | undefined): boolean => {
      for (let at = line; at !== undefined; at = draft.lines[at]?.below)
        if (draft.lines[at]?.lengthMm === undefined) return false;
      return true;
    };
    const given = tabs.filter((tab) => tab.totalMm !== undefined || complete(tab.line)).length;
    return [{ row, given, tabs: tabs.length }];
  });
}
