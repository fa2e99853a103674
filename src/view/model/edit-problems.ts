/** Where a plan's problems show: at the cell they are about. */
import { type EditHalf, listPath } from "../../plan/edit-plan.ts";
import type { EditPath } from "../../plan/edit-steps.ts";
import type { Problem } from "../../plan/model.ts";
import { formatPath } from "../../plan/problems.ts";
import {
  type Column,
  FACT_GRIDS,
  GRIDS_OF,
  type GridId,
  LIST_GRIDS,
  SETTING_COLUMNS,
  TABLES,
  type TableId,
} from "./edit-columns.ts";

/** A cell of the editor. */
export interface CellPlace {
  readonly table: TableId;
  readonly grid: GridId;
  /** Undefined where the cell is the same for all halves. */
  readonly half: EditHalf | undefined;
  readonly row: number;
  readonly col: number;
  readonly at: string;
}

/** A path as it was written out: `sides.left.lines[3].hangsOn`. */
export function pathIn(where: string): EditPath {
  return (where.replace(/ \(line \d+\)$/u, "").match(/[^.[\]]+/gu) ?? []).map((step) =>
    /^\d+$/u.test(step) ? Number(step) : step,
  );
}

const tableOf = (grid: GridId): TableId => TABLES.find((table) => GRIDS_OF[table].includes(grid)) ?? "wing";

/** The column whose field begins a path, or the first one, which names the member. */
function columnFor(columns: readonly Column[], rest: EditPath): number {
  const found = columns.findIndex(({ field }) => field.every((step, index) => rest[index] === step));
  if (found !== -1) return found;
  const within = columns.findIndex(
    ({ field }) => rest.length > 0 && rest.every((step, index) => field[index] === step),
  );
  return Math.max(0, within);
}

/** The cell that a place in the file is shown at; undefined where no one cell is. */
export function cellAt(path: EditPath): CellPlace | undefined {
  if (path[0] === "sides") {
    const [, half, list, row, ...rest] = path;
    if ((list !== "lines" && list !== "tabs") || typeof row !== "number") return undefined;
    const { columns } = LIST_GRIDS[list];
    const col = columnFor(columns, rest);
    const at = formatPath([...listPath(list, half as EditHalf), row, ...(columns[col]?.field ?? [])]);
    return { table: list, grid: list, half: half as EditHalf, row, col, at };
  }
  const [list, row, ...rest] = path;
  if (
    typeof row === "number" &&
    (list === "materials" || list === "risers" || list === "maillons" || list === "settings")
  ) {
    const columns: readonly Column[] = list === "settings" ? SETTING_COLUMNS : LIST_GRIDS[list].columns;
    const col = columnFor(columns, rest);
    const at = formatPath([list, row, ...(columns[col]?.field ?? [])]);
    return { table: tableOf(list), grid: list, half: undefined, row, col, at };
  }
  for (const [grid, { facts }] of Object.entries(FACT_GRIDS) as [
    GridId,
    { facts: readonly { field: EditPath }[] },
  ][]) {
    const place = facts.findIndex(
      ({ field }) =>
        path.length > 0 && path.every((step, index) => field[index] === step || index >= field.length),
    );
    const field = facts[place]?.field;
    if (field !== undefined)
      return { table: tableOf(grid), grid, half: undefined, row: place, col: 0, at: formatPath(field) };
  }
  return undefined;
}

export interface PlacedProblem {
  readonly problem: Problem;
  readonly place: CellPlace | undefined;
}

/** Problems with the cells they show at, as they come: errors first. */
export function placed(problems: readonly Problem[]): readonly PlacedProblem[] {
  return problems.map((problem) => ({ problem, place: cellAt(pathIn(problem.where)) }));
}

/** Problems by the cell they show at. */
export function byCell(problems: readonly PlacedProblem[]): ReadonlyMap<string, readonly Problem[]> {
  const found = new Map<string, Problem[]>();
  for (const { problem, place } of problems) {
    if (place === undefined) continue;
    const there = found.get(place.at);
    if (there === undefined) found.set(place.at, [problem]);
    else there.push(problem);
  }
  return found;
}
