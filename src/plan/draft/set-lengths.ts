/** Totals, lengths and the plan's own names for a draft's lines and tabs. */
import { say } from "../../words/index.ts";
import { didYouMean, nearest } from "../wording.ts";
import type { OpenLine, OpenTab, Say } from "./model.ts";
import { type DraftSource, KIND_LETTERS, ROW_PREFIXES } from "./source.ts";

/** Sets totals of tabs and lengths of lines; tells those that belong to nothing, stand twice or can't be millimetres. */
export function setLengths(
  source: DraftSource,
  lines: readonly OpenLine[],
  tabs: readonly OpenTab[],
  complain: Say,
): void {
  const seen = new Set<string>();
  const check = (path: string, subject: string, mm: number, name: string): boolean => {
    if (seen.has(name)) {
      complain(path, subject, say("draft.twice", { what: name }), say("draft.twice.fix"));
      return false;
    }
    seen.add(name);
    if (mm >= 20 && mm <= 50_000) return true;
    complain(
      path,
      subject,
      say("draft.length", { what: name, found: mm }),
      mm < 20 ? say("draft.length.short") : say("draft.length.long"),
    );
    return false;
  };
  (source.totals ?? []).forEach(({ row, number, mm }, index) => {
    const path = `totals[${index}]`;
    const name = `${ROW_PREFIXES[row]}${number}`;
    const there = tabs.filter((tab) => tab.row === row);
    const tab = there[number - 1];
    if (tab === undefined) {
      complain(
        path,
        name,
        say("draft.total.none", { number, row, count: there.length }),
        say("draft.number.fix"),
      );
    } else if (check(path, name, mm, say("draft.total-of", { id: name }))) tab.totalMm = mm;
  });
  (source.lengths ?? []).forEach(({ row, kind, number, mm }, index) => {
    const path = `lengths[${index}]`;
    const name = `${ROW_PREFIXES[row]}${KIND_LETTERS[kind]}${number}`;
    const there = lines.filter((line) => line.row === row && line.kind === kind);
    const line = there[number - 1];
    if (line === undefined) {
      complain(
        path,
        name,
        say("draft.length.none", { kind, number, row, count: there.length }),
        kind === "upper" || there.length > 0 ? say("draft.number.fix") : say("draft.upper-lines"),
      );
    } else if (check(path, name, mm, say("draft.length-of", { id: name }))) line.lengthMm = mm;
  });
}

/** Sets the names that the plan has; tells those that two share. */
export function setNames(
  source: DraftSource,
  lines: readonly OpenLine[],
  tabs: readonly OpenTab[],
  complain: Say,
): void {
  (source.names ?? []).forEach(({ of, draft, plan }, index) => {
    const all: readonly (OpenLine | OpenTab)[] = of === "line" ? lines : tabs;
    const found = all.find((one) => one.name.toLowerCase() === draft.toLowerCase());
    if (found === undefined)
      complain(
        `names[${index}]`,
        draft,
        say("draft.name", { of, draft }),
        say("draft.name.fix", {
          guess: didYouMean(
            nearest(
              draft,
              all.map((one) => one.name),
            ),
          ),
        }),
      );
    else found.id = plan;
  });
  for (const [kind, all] of [
    ["line", lines],
    ["tab", tabs],
  ] as const) {
    const first = new Map<string, string>();
    for (const one of all) {
      const other = first.get(one.id);
      const index = (source.names ?? []).findLastIndex((name) => name.of === kind && name.plan === one.id);
      if (other !== undefined)
        complain(
          `names[${index}]`,
          one.id,
          say("draft.same-name", { kind, one: other, other: one.name, name: one.id }),
          say("draft.same-name.fix"),
        );
      else first.set(one.id, one.name);
    }
  }
}
