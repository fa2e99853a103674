/**
 * Lengths as they come from a spreadsheet or a printed sheet: whatever way round they stand, brought into the one form that
 * the draft's reader knows, each cell with what it is and what is the matter with it.
 */
import { type Draft, type LengthTable, readLengthTable } from "../../plan/draft/index.ts";
import { rowNamed } from "../../plan/draft/source.ts";
import { type Problem, ROWS, type Row } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import {
  headingOf,
  NUMBER,
  plainNumber,
  type Shape,
  shapeOf,
  type TableOf,
  turnedOf,
} from "./build-table-shape.ts";

export type TableUnit = "mm" | "cm" | "m" | "in";

/** [mm] */
const UNIT_MM: Readonly<Record<TableUnit, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4 };

export interface TableSettings {
  /** What columns are that only name a row. */
  readonly of: TableOf;
  readonly unit: TableUnit;
}

export interface TableCell {
  readonly text: string;
  readonly role: "heading" | "number" | "value" | "other";
  /** What the length belongs to, as the draft names it. */
  readonly subject: string | undefined;
  readonly problem: Problem | undefined;
}

export interface TablePreview {
  /** As pasted, row by row. */
  readonly cells: readonly (readonly TableCell[])[];
  /** What of it the draft has a place for. */
  readonly table: LengthTable;
  /** Lengths that are read and have their tab or line. */
  readonly matched: number;
  /** Problems of no single cell. */
  readonly problems: readonly Problem[];
  /** Tabs or lines of the rows and kinds in the table that it has no length for. */
  readonly missing: readonly string[];
  /** Nothing said which column is which row: taken in the draft's order. */
  readonly ordered: boolean;
}

/** What a table of lengths gives the draft; `cells` as pasted. */
export function previewOf(
  cells: readonly (readonly string[])[],
  draft: Draft,
  { of, unit }: TableSettings,
): TablePreview {
  const shape = shapeOf(cells, draft, of);
  const turned: Shape = shape ?? { head: [], heads: [], body: turnedOf(cells), ordered: false };
  const isValue = (at: number): boolean =>
    turned.head[at] === "mm" || headingOf(turned.head[at] ?? "") !== undefined;
  const converted = turned.body.map((row) =>
    row.map((cell, at) => {
      const plain = plainNumber(cell.text);
      if (!isValue(at) || !NUMBER.test(plain)) return cell.text;
      return String(Math.round(Number(plain) * UNIT_MM[unit] * 100) / 100);
    }),
  );
  const table = [...(shape === undefined ? [] : [turned.head]), ...converted];
  const read = readLengthTable(
    table.map((row) => row.map((cell) => cell.replace(/[;"\r\n]/gu, " ")).join(";")).join("\n"),
  );

  // Back to the cells that were pasted.
  const key = (row: number, column: number): string => `${row} ${column}`;
  const roles = new Map<string, TableCell["role"]>();
  const subjects = new Map<string, string>();
  const faults = new Map<string, Problem>();
  const places = new Map<string, string>();
  for (const row of turned.heads)
    for (const { from } of row) if (from !== undefined) roles.set(key(...from), "heading");
  const loose: Problem[] = [];
  const wanted = new Set<string>();
  const given = new Set<string>();
  let matched = 0;
  const shift = shape === undefined ? 1 : 2;
  turned.body.forEach((row, at) => {
    row.forEach(({ from }, column) => {
      if (from === undefined) return;
      places.set(say("draft.cell", { row: at + shift, column: column + 1 }), key(...from));
      const role = isValue(column)
        ? "value"
        : /^(number|row|line)$/u.test(turned.head[column] ?? "")
          ? "number"
          : "other";
      if (roles.get(key(...from)) !== "value") roles.set(key(...from), role);
    });
  });
  if (shape !== undefined)
    (turned.heads[0] ?? []).forEach(({ from }, column) => {
      if (from !== undefined) places.set(say("draft.cell", { row: 1, column: column + 1 }), key(...from));
    });
  for (const problem of read.problems) {
    const place = places.get(problem.where);
    if (place === undefined) loose.push(problem);
    else if (!faults.has(place)) faults.set(place, problem);
  }
  const nameOf = (row: Row, kind: TableOf, number: number): string | undefined =>
    kind === "total"
      ? draft.tabs.find((tab) => tab.row === row && tab.number === number)?.id
      : draft.lines.find((line) => line.row === row && line.kind === kind && line.number === number)?.id;
  const countOf = (row: Row, kind: TableOf): number =>
    kind === "total"
      ? draft.tabs.filter((tab) => tab.row === row).length
      : draft.lines.filter((line) => line.row === row && line.kind === kind).length;
  const cellOf = (row: Row, kind: TableOf, number: number): string | undefined => {
    for (const line of turned.body) {
      const at = turned.head.indexOf("number");
      if (Number(line[at]?.text) !== number) continue;
      const long = turned.head.indexOf("mm");
      if (long >= 0) {
        const rowAt = turned.head.indexOf("row");
        const kindAt = turned.head.indexOf("line");
        const same =
          rowNamed(line[rowAt]?.text ?? "") === row &&
          (kindAt < 0 || (line[kindAt]?.text || "total") === kind);
        if (same && line[long]?.from !== undefined) return key(...line[long].from);
        continue;
      }
      const column = turned.head.findIndex((text) => {
        const found = headingOf(text);
        return found !== undefined && found.row === row && (found.of ?? "total") === kind;
      });
      const from = line[column]?.from;
      if (from !== undefined) return key(...from);
    }
    return undefined;
  };
  const take = <T extends { readonly row: Row; readonly number: number; readonly mm: number }>(
    all: readonly T[],
    kindOf: (one: T) => TableOf,
  ): readonly T[] =>
    all.filter((one) => {
      const kind = kindOf(one);
      const name = nameOf(one.row, kind, one.number);
      const place = cellOf(one.row, kind, one.number);
      const problem = (message: string, remedy: string): void => {
        const told: Problem = { severity: "error", where: "", subject: name, message, remedy };
        if (place === undefined) loose.push(told);
        else if (!faults.has(place)) faults.set(place, told);
      };
      if (name === undefined) {
        const count = countOf(one.row, kind);
        problem(
          kind === "total"
            ? say("draft.total.none", { number: one.number, row: one.row, count })
            : say("draft.length.none", { kind, number: one.number, row: one.row, count }),
          say("build.table.none.fix"),
        );
        return false;
      }
      if (one.mm < 20 || one.mm > 50_000) {
        problem(
          say("draft.length", { what: name, found: one.mm }),
          one.mm < 20 ? say("draft.length.short") : say("draft.length.long"),
        );
        return false;
      }
      given.add(`${kind} ${one.row} ${one.number}`);
      wanted.add(`${kind} ${one.row}`);
      if (place !== undefined) subjects.set(place, name);
      matched++;
      return true;
    });
  const totals = take(read.totals, () => "total");
  const lengths = take(read.lengths, (one) => one.kind);
  const rank = (each: string): number => ROWS.indexOf(each.split(" ")[1] as Row);
  const missing = [...wanted]
    .sort((a, b) => rank(a) - rank(b))
    .flatMap((each) => {
      const [kind, row] = each.split(" ") as [TableOf, Row];
      return Array.from({ length: countOf(row, kind) }, (_, at) => at + 1).flatMap((number) =>
        given.has(`${each} ${number}`) ? [] : (nameOf(row, kind, number) ?? []),
      );
    });
  return {
    cells: cells.map((row, at) =>
      row.map((text, column): TableCell => {
        const place = key(at, column);
        const problem = faults.get(place);
        return { text, role: roles.get(place) ?? "other", subject: subjects.get(place), problem };
      }),
    ),
    table: { totals, lengths, problems: read.problems },
    matched,
    problems: loose,
    missing,
    ordered: turned.ordered,
  };
}
