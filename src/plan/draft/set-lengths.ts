/** Totals, lengths and the plan's own names for a draft's lines and tabs. */
import { didYouMean, nearest } from "../wording.ts";
import type { OpenLine, OpenTab, Say } from "./model.ts";
import { type DraftSource, KIND_LETTERS, ROW_PREFIXES } from "./source.ts";

/** Sets totals of tabs and lengths of lines; tells those that belong to nothing, stand twice or can't be millimetres. */
export function setLengths(
  source: DraftSource,
  lines: readonly OpenLine[],
  tabs: readonly OpenTab[],
  say: Say,
): void {
  const seen = new Set<string>();
  const check = (path: string, subject: string, mm: number, name: string): boolean => {
    if (seen.has(name)) {
      say(path, subject, `${name} is given twice.`, "Keep one of them.");
      return false;
    }
    seen.add(name);
    if (mm >= 20 && mm <= 50_000) return true;
    say(
      path,
      subject,
      `${name}: found ${mm}; a length between 20 mm and 50000 mm was expected.`,
      mm < 20 ? "Give it in millimetres; was it metres?" : "Is there a digit too many?",
    );
    return false;
  };
  const many = (found: number): string => (found === 1 ? "only 1" : `only ${found}`);
  (source.totals ?? []).forEach(({ row, number, mm }, index) => {
    const path = `totals[${index}]`;
    const name = `${ROW_PREFIXES[row]}${number}`;
    const there = tabs.filter((tab) => tab.row === row);
    const tab = there[number - 1];
    if (tab === undefined) {
      say(
        path,
        name,
        `A total for tab ${number} of row ${row}: the row has ${there.length === 0 ? "no tab" : `${many(there.length)}`}.`,
        "Correct the number, or the row's cascade.",
      );
    } else if (check(path, name, mm, `Total of tab ${name}`)) tab.totalMm = mm;
  });
  (source.lengths ?? []).forEach(({ row, kind, number, mm }, index) => {
    const path = `lengths[${index}]`;
    const name = `${ROW_PREFIXES[row]}${KIND_LETTERS[kind]}${number}`;
    const there = lines.filter((line) => line.row === row && line.kind === kind);
    const line = there[number - 1];
    if (line === undefined) {
      say(
        path,
        name,
        `A length for ${kind} line ${number} of row ${row}: the row has ${there.length === 0 ? `no ${kind} line` : `${many(there.length)}`}.`,
        kind === "upper" || there.length > 0
          ? "Correct the number, or the row's cascade."
          : "Lines that end at a tab are upper lines, whatever they hang on.",
      );
    } else if (check(path, name, mm, `Length of line ${name}`)) line.lengthMm = mm;
  });
}

/** Sets the names that the plan has; tells those that two share. */
export function setNames(
  source: DraftSource,
  lines: readonly OpenLine[],
  tabs: readonly OpenTab[],
  say: Say,
): void {
  (source.names ?? []).forEach(({ of, draft, plan }, index) => {
    const all: readonly (OpenLine | OpenTab)[] = of === "line" ? lines : tabs;
    const found = all.find((one) => one.name.toLowerCase() === draft.toLowerCase());
    if (found === undefined)
      say(
        `names[${index}]`,
        draft,
        `A name for ${of} "${draft}": the draft has no such ${of}.`,
        `Name it as the draft numbers it.${didYouMean(
          nearest(
            draft,
            all.map((one) => one.name),
          ),
        )}`,
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
        say(
          `names[${index}]`,
          one.id,
          `Both ${kind}s ${other} and ${one.name} are called ${one.id}.`,
          "Give each a name of its own.",
        );
      else first.set(one.id, one.name);
    }
  }
}
