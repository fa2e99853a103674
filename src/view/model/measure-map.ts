/** All that is to be read, by row and side, each with what has become of it. */
import type { Row, Side } from "../../plan/model.ts";
import { keyOfTarget, type Session, type Step, sameTarget } from "../../readings/session/index.ts";

export type CellState = "open" | "read" | "doubtful" | "skipped";

export interface Cell {
  readonly key: string;
  readonly step: Step;
  readonly state: CellState;
  readonly isNext: boolean;
  readonly hasNote: boolean;
}

export interface MapRow {
  readonly row: Row;
  readonly kind: "tab" | "line";
  readonly sides: Readonly<Record<Side, readonly Cell[]>>;
}

/**
 * Rows in the order's first mention, paths before single lines; in each the cells by the plan's order of names from the wing's
 * middle outwards, whatever order they are read in.
 *
 * @param placeOf by {@link keyOfTarget}: where a target stands in its row
 */
export function mapOf(session: Session, placeOf: ReadonlyMap<string, number>): readonly MapRow[] {
  const { order, targets, next } = session.state;
  const rows = new Map<string, { row: Row; kind: "tab" | "line"; left: Cell[]; right: Cell[] }>();
  const inOrder = new Set(order.steps.map(({ target }) => keyOfTarget(target)));
  // A line that was asked for out of turn belongs on the map too.
  const extra = next !== undefined && !inOrder.has(keyOfTarget(next.target)) ? [next] : [];
  for (const step of [...order.steps, ...extra]) {
    const { target, row } = step;
    const key = keyOfTarget(target);
    const one = targets.get(key);
    const name = `${target.kind} ${row}`;
    const here = rows.get(name) ?? { row, kind: target.kind, left: [], right: [] };
    rows.set(name, here);
    here[target.side].push({
      key,
      step,
      state:
        one === undefined ? "open" : one.status !== "open" ? one.status : one.skips > 0 ? "skipped" : "open",
      isNext: sameTarget(next?.target, target),
      hasNote: (one?.notes.length ?? 0) > 0,
    });
  }
  const place = (cell: Cell): number => placeOf.get(cell.key) ?? Number.MAX_SAFE_INTEGER;
  const sorted = (cells: readonly Cell[]): readonly Cell[] => [...cells].sort((a, b) => place(a) - place(b));
  return [...rows.values()]
    .sort((one, other) => (one.kind === other.kind ? 0 : one.kind === "tab" ? -1 : 1))
    .map(({ row, kind, left, right }) => ({
      row,
      kind,
      sides: { left: sorted(left), right: sorted(right) },
    }));
}
