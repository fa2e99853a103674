/** A row's cascade as a form asks for it: how many tabs, and what each lower line carries. */
import {
  type Branch,
  type Draft,
  PATTERNS,
  parseCascade,
  tabsOf,
  writeCascade,
} from "../../plan/draft/index.ts";
import { patternNamed } from "../../plan/draft/patterns.ts";
import { ROW_PREFIXES } from "../../plan/draft/source.ts";
import { quoted } from "../../plan/draft/words.ts";
import { ROWS, type Row } from "../../plan/model.ts";
import type { Key } from "../../words/index.ts";
import { rowOfHead, statementsIn, withStatement } from "./build-statements.ts";

/** What lower lines usually carry. */
export interface Unit {
  readonly id: string;
  readonly name: Key;
  /** What one lower line carries, in the notation. */
  readonly carries: string;
  /** One lower line holds them all, as brakes mostly have it. */
  readonly together: boolean;
}

const unit = (id: string, name: Key, carries: string, together = false): Unit => ({
  id,
  name,
  carries,
  together,
});

/** For rows A to D. Common practice, no source. */
export const ROW_UNITS: readonly Unit[] = [
  unit("1", "build.unit.1", "1"),
  unit("2", "build.unit.2", "2"),
  unit("3", "build.unit.3", "3"),
  unit("2+2", "build.unit.2+2", "2+2"),
  unit("3+2", "build.unit.3+2", "3+2"),
  unit("(2+2)+(2+2)", "build.unit.8", "(2+2)+(2+2)"),
];

/** For the brakes. Common practice, no source. */
export const BRAKE_UNITS: readonly Unit[] = [
  unit("2", "build.unit.2", "2"),
  unit("*2", "build.unit.all2", "2", true),
  unit("*(2+2)", "build.unit.all22", "(2+2)", true),
];

/** For the tip lines, which carry few tabs. */
export const TIP_UNITS: readonly Unit[] = ROW_UNITS.slice(0, 4);

export const unitsOf = (row: Row): readonly Unit[] =>
  row === "brake" ? BRAKE_UNITS : row === "tip" ? TIP_UNITS : ROW_UNITS;

/** The first tabs of a line; a line that would carry one line only is left out. */
function firstTabs(branch: Branch, tabs: number): Branch {
  if (tabs >= tabsOf(branch)) return branch;
  const carries: Branch[] = [];
  let left = tabs;
  for (const above of branch.carries) {
    if (left <= 0) break;
    carries.push(firstTabs(above, left));
    left -= tabsOf(above);
  }
  return carries.length === 1 ? (carries[0] as Branch) : { ...branch, carries };
}

/** So many tabs in the notation, as the unit has it; the outermost lower line carries what is left. */
export function cascadeOf({ carries, together }: Unit, tabs: number, row: Row): string {
  const one = parseCascade(carries, row).lines[0] as Branch;
  const size = tabsOf(one);
  const lines = Array.from({ length: Math.ceil(tabs / size) }, (_, index) =>
    firstTabs(one, Math.min(size, tabs - index * size)),
  );
  const [only] = lines;
  return writeCascade(
    !together || lines.length < 2 || only === undefined ? lines : [{ row, at: 0, carries: lines }],
    row,
  );
}

/** What a form shows of a row. */
export interface RowForm {
  readonly row: Row;
  /** `none`: not there; `on`: its tabs hang on lower lines of other rows; `hand`: typed otherwise than a form can say. */
  readonly state: "none" | "unit" | "hand" | "on";
  readonly tabs: number;
  readonly unit: string | undefined;
  /** Rows whose lower lines carry it. */
  readonly carriedBy: readonly Row[];
  /** What it hangs on, where the draft says. */
  readonly on: string | undefined;
}

/** All rows, as the draft has them. */
export function rowForms(draft: Draft): readonly RowForm[] {
  return ROWS.map((row): RowForm => {
    const entries = draft.source.rows.filter((entry) => entry.row === row);
    const tabs = draft.tabs.filter((tab) => tab.row === row);
    const carriedBy = [
      ...new Set(tabs.flatMap((tab) => draft.source.rows[draft.lines[tab.line]?.entry ?? -1]?.row ?? [])),
    ].filter((other) => other !== row);
    const [entry] = entries;
    const base = { row, tabs: tabs.length, carriedBy, on: entry?.on };
    if (entry === undefined) return { ...base, state: tabs.length === 0 ? "none" : "on", unit: undefined };
    const { lines, faults } = parseCascade(entry.cascade, row);
    const written = writeCascade(lines, row);
    const found =
      entries.length > 1 || faults.length > 0
        ? undefined
        : unitsOf(row).find((each) => cascadeOf(each, tabs.length, row) === written);
    return { ...base, state: found === undefined ? "hand" : "unit", unit: found?.id };
  });
}

/** A `pattern:` written out as the rows that it stands for, so that single ones can be changed. */
export function spelledOut(text: string): string {
  const all = statementsIn(text);
  const statement = all.find(({ head }) => head === "pattern");
  const pattern = statement === undefined ? undefined : patternNamed(statement.body);
  if (statement === undefined || pattern === undefined) return text;
  const own = new Set(all.map(({ head }) => rowOfHead(head)));
  const rest = pattern.rows.filter(({ row }) => !own.has(row));
  let written = withStatement(text, (head) => head === "pattern", undefined).text;
  for (const { row, on, cascade } of rest) written = withRow(written, row, cascade, on);
  return written;
}

/** The text with a row's lower lines as given; undefined takes the row out. What it hangs on stays, unless `on` is given. */
export function withRow(text: string, row: Row, cascade: string | undefined, on?: string): string {
  const is = (head: string): boolean => rowOfHead(head) === row;
  if (cascade === undefined) return withStatement(text, is, undefined).text;
  const before = statementsIn(text).find(({ head }) => is(head));
  const raw = before === undefined ? "" : (text.split("\n")[before.line - 1] as string);
  const kept = before === undefined ? null : /\son\s+(.+?)\s*:/iu.exec(raw.slice(0, before.bodyAt));
  const place = on === undefined ? kept?.[1] : quoted(on);
  return withStatement(
    text,
    is,
    `${ROW_PREFIXES[row]}${place === undefined ? "" : ` on ${place}`}: ${cascade}`,
  ).text;
}

/** The text with the rows of a usual pattern in the place of its own. */
export function withPattern(text: string, id: string): string {
  const pattern = PATTERNS.find((each) => each.id === id);
  if (pattern === undefined) return text;
  let written = withStatement(text, (head) => head === "pattern", undefined).text;
  for (const row of ROWS) written = withRow(written, row, undefined);
  for (const { row, on, cascade } of pattern.rows) written = withRow(written, row, cascade, on);
  return written;
}
