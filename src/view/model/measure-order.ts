/** What is to be read, and in which order: all paths, those of some rows, single lines; and the same things in another order. */
import { ROWS, type Row, SIDES, type Side, type Wing } from "../../plan/model.ts";
import {
  keyOfTarget,
  makeOrder,
  type Order,
  type OrderName,
  type OrderOptions,
  type Step,
} from "../../readings/session/index.ts";

export type Arrangement = Exclude<OrderName, "own">;
export const ARRANGEMENTS: readonly Arrangement[] = ["rows", "sides", "pairs", "maillons"];

/** Whole paths from the datum to the tab, single lines between their loops, or both. */
export type What = "paths" | "lines" | "both";
export const WHATS: readonly What[] = ["paths", "lines", "both"];

export interface Wanted {
  readonly what: What;
  readonly rows: ReadonlySet<Row>;
  readonly sides: ReadonlySet<Side>;
  /** Of single lines: 1 for lower ones, counted upwards. */
  readonly tiers: ReadonlySet<number>;
}

/** Everything that a wing's readings usually are. */
export function allPaths(wing: Wing): Wanted {
  return { what: "paths", rows: new Set(rowsOfWing(wing)), sides: new Set(SIDES), tiers: new Set([1]) };
}

/** Rows that the wing has, in order. */
export function rowsOfWing(wing: Wing): readonly Row[] {
  const present = new Set(wing.tabs.map(({ row }) => row));
  return ROWS.filter((row) => present.has(row));
}

/** Tiers that the wing has. */
export function tiersOfWing(wing: Wing): readonly number[] {
  return [...new Set(wing.lines.map(({ tier }) => tier))].sort((one, other) => one - other);
}

/** An order of what is wanted: paths first, then single lines. */
export function orderOf(wing: Wing, wanted: Wanted, name: Arrangement, options: OrderOptions = {}): Order {
  const tabs = wanted.what === "lines" ? [] : makeOrder(wing, name, options).steps;
  const lines = wanted.what === "paths" ? [] : lineSteps(wing, wanted.tiers, name, options);
  const steps = [...tabs, ...lines].filter(
    ({ row, target }) => wanted.rows.has(row) && wanted.sides.has(target.side),
  );
  return { name, steps };
}

/** The same things in another order; what the wing's plan doesn't name stays, at the end. */
export function arranged(
  wing: Wing,
  steps: readonly Step[],
  name: Arrangement,
  options: OrderOptions = {},
): Order {
  const keys = new Set(steps.map(({ target }) => keyOfTarget(target)));
  const tiers = new Set(tiersOfWing(wing));
  const found = [...makeOrder(wing, name, options).steps, ...lineSteps(wing, tiers, name, options)].filter(
    ({ target }) => keys.has(keyOfTarget(target)),
  );
  const known = new Set(found.map(({ target }) => keyOfTarget(target)));
  return { name, steps: [...found, ...steps.filter(({ target }) => !known.has(keyOfTarget(target)))] };
}

/** Single lines as the order wants them; lines to which the plan gives no length are left out. */
function lineSteps(
  wing: Wing,
  tiers: ReadonlySet<number>,
  name: Arrangement,
  { firstSide = "left", brakes = "last" }: OrderOptions,
): readonly Step[] {
  const sides = firstSide === "left" ? SIDES : [...SIDES].reverse();
  const main = ROWS.filter((row) => row !== "brake");
  const rows: readonly Row[] = brakes === "first" ? ["brake", ...main] : brakes === "none" ? main : ROWS;
  const lines = wing.lines.filter((line) => !line.lengthAssumed && tiers.has(line.tier));
  const of = (row: Row, side: Side): readonly Step[] =>
    lines
      .filter((line) => line.row === row && line.side === side)
      .map((line) => ({ target: { kind: "line", id: line.id, side }, row }));
  if (name === "sides") return sides.flatMap((side) => rows.flatMap((row) => of(row, side)));
  if (name !== "pairs") return rows.flatMap((row) => sides.flatMap((side) => of(row, side)));
  return rows.flatMap((row) => {
    const [first = [], second = []] = sides.map((side) => of(row, side));
    const paired = first.flatMap((step) => [
      step,
      ...second.filter((other) => other.target.id === step.target.id),
    ]);
    return [...paired, ...second.filter((other) => !first.some((one) => one.target.id === other.target.id))];
  });
}
