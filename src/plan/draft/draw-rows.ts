/** The lines and tabs of a draft's rows, each named by row, kind and number. */
import { say } from "../../words/index.ts";
import type { Row } from "../model.ts";
import { PULLEY } from "../schema.ts";
import type { OpenLine, OpenTab, Say, SayFaults } from "./model.ts";
import { type Branch, MOST_TIERS, parseCascade } from "./notation.ts";
import {
  type DraftSource,
  KIND_LETTERS,
  LINE_KINDS,
  type LineKind,
  ROW_PREFIXES,
  rowNamed,
} from "./source.ts";

/** Draws every entry in turn; numbers run on where a row is named again. Materials, lengths and ribs come later. */
export function drawRows(
  source: DraftSource,
  faults: SayFaults,
  complain: Say,
): { readonly lines: OpenLine[]; readonly tabs: OpenTab[] } {
  const lines: OpenLine[] = [];
  const tabs: OpenTab[] = [];
  const counts = new Map<string, number>();
  const next = (row: Row, kind: LineKind | "tab"): number => {
    const key = `${row} ${kind}`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
    return counts.get(key) as number;
  };
  source.rows.forEach(({ row, on, cascade }, entry) => {
    const path = `rows[${entry}].cascade`;
    const read = parseCascade(cascade, row);
    faults(path, say("draft.row", { row }), read.faults);
    if (read.lines.length === 0 && read.faults.length === 0)
      complain(path, row, say("draft.row.empty", { row }), say("draft.row.empty.fix"));
    if (row === "brake" && on !== undefined && on !== PULLEY)
      complain(`rows[${entry}].on`, row, say("draft.brake-on", { found: on }), say("draft.brake-on.fix"));
    const anchor = row === "brake" ? PULLEY : (on ?? ROW_PREFIXES[row]);
    const mixed = new Set<string>();
    const grow = (branch: Branch, tier: number, below: number | undefined): void => {
      // A fault already tells of the fifth tier; the rest is drawn without it.
      if (tier > MOST_TIERS) return;
      if ((branch.row === "brake") !== (row === "brake") && !mixed.has(branch.row)) {
        mixed.add(branch.row);
        complain(
          path,
          row,
          say("draft.row.mixed", { row, other: branch.row }),
          say("draft.row.mixed.fix"),
          branch.at,
        );
      }
      const ends = branch.carries.length === 0 || tier === MOST_TIERS;
      const kind = ends ? "upper" : (LINE_KINDS[tier - 1] as LineKind);
      const number = next(branch.row, kind);
      const name = `${ROW_PREFIXES[branch.row]}${KIND_LETTERS[kind]}${number}`;
      const index = lines.length;
      lines.push({
        name,
        id: name,
        row: branch.row,
        kind,
        number,
        tier,
        below,
        anchor,
        entry,
        tab: ends ? tabs.length : undefined,
        material: undefined,
        materialAssumed: false,
        colour: undefined,
        loop: undefined,
        lengthMm: undefined,
      });
      if (ends)
        tabs.push({
          name,
          id: name,
          row: branch.row,
          number,
          rib: 0,
          ribAssumed: true,
          chordFraction: undefined,
          line: index,
          totalMm: undefined,
        });
      else for (const above of branch.carries) grow(above, tier + 1, index);
    };
    for (const line of read.lines) grow(line, 1, undefined);
  });
  return { lines, tabs };
}

/** What a word means: a row's lines, one line by its name, or all; none where it means nothing. */
export function targetsOf(lines: readonly OpenLine[]): (word: string) => readonly OpenLine[] {
  const byName = new Map(lines.map((line) => [line.name.toLowerCase(), line]));
  return (word) => {
    if (word.toLowerCase() === "all") return lines;
    const row = rowNamed(word);
    if (row !== undefined) return lines.filter((line) => line.row === row);
    const line = byName.get(word.toLowerCase());
    return line === undefined ? [] : [line];
  };
}
