/** In which order a wing's lines are read: made once from the plan, then plain data. */
import { ROWS, type Row, SIDES, type Side, type Tab, type Wing } from "../../plan/index.ts";
import type { Target } from "../model.ts";
import { keyOfTarget, type Order, type OrderName, type Step } from "./model.ts";

export interface OrderOptions {
  /** Default: last. */
  readonly brakes?: "first" | "last" | "none";
  /** Side that comes first. Default: left. */
  readonly firstSide?: Side;
  /** Lines to be read alone as well, such as those that tell most about what the paths leave open, in their order. */
  readonly linesAlone?: readonly Target[];
  /** Default: first. */
  readonly linesAloneAt?: "first" | "last";
}

/**
 * An order of all tabs of a wing, each row from the innermost rib outwards.
 *
 * `rows`: A left, A right, B left …; `sides`: all rows of one side, then of the other; `pairs`: A1 left, A1 right, A2 left …;
 * `maillons`: maillon by maillon in the plan's order, each left then right, and what hangs on no maillon by row.
 */
export function makeOrder(wing: Wing, name: Exclude<OrderName, "own">, options: OrderOptions = {}): Order {
  const { brakes = "last", firstSide = "left", linesAlone = [], linesAloneAt = "first" } = options;
  const sides = firstSide === "left" ? SIDES : [...SIDES].reverse();
  const main = ROWS.filter((row) => row !== "brake");
  const rows: readonly Row[] =
    brakes === "first" ? ["brake", ...main] : brakes === "last" ? [...main, "brake"] : main;
  const of = (row: Row, side: Side): readonly Tab[] =>
    wing.tabs
      .filter((tab) => tab.row === row && tab.side === side)
      .sort((one, other) => one.rib - other.rib || (one.chordFraction ?? 0) - (other.chordFraction ?? 0));
  const tabs: Record<typeof name, () => readonly Tab[]> = {
    rows: () => rows.flatMap((row) => sides.flatMap((side) => of(row, side))),
    sides: () => sides.flatMap((side) => rows.flatMap((row) => of(row, side))),
    pairs: () => rows.flatMap((row) => pairs(row, sides, of)),
    maillons: () => {
      const all = rows.flatMap((row) => sides.flatMap((side) => of(row, side)));
      const maillonOf = new Map(wing.paths.map((path) => [path.tabKey, path.maillonId]));
      const on = (id: string | undefined): Tab[] => all.filter((tab) => maillonOf.get(tab.key) === id);
      const free = on(undefined);
      const held = wing.maillons.flatMap(({ id }) =>
        sides.flatMap((side) => on(id).filter((tab) => tab.side === side)),
      );
      return brakes === "first" ? [...free, ...held] : [...held, ...free];
    },
  };
  const steps = tabs[name]().map(
    (tab): Step => ({ target: { kind: "tab", id: tab.id, side: tab.side }, row: tab.row }),
  );
  const alone = stepsOf(wing, linesAlone).steps;
  return { name, steps: linesAloneAt === "first" ? [...alone, ...steps] : [...steps, ...alone] };
}

/** Tabs of a row in pairs of twins; a tab without a twin comes where its rib is. */
function pairs(
  row: Row,
  sides: readonly Side[],
  of: (row: Row, side: Side) => readonly Tab[],
): readonly Tab[] {
  const [first, second] = sides.map((side) => of(row, side)) as [readonly Tab[], readonly Tab[]];
  const taken = new Set<string>();
  const paired = first.flatMap((tab) => {
    const twin = second.find((other) => other.key === tab.mirrorKey);
    if (twin) taken.add(twin.key);
    return twin ? [tab, twin] : [tab];
  });
  const single = second.filter((tab) => !taken.has(tab.key));
  return single.length === 0 ? paired : [...paired, ...single].sort((one, other) => one.rib - other.rib);
}

/**
 * One's own list as an order. Targets that the wing doesn't have, lines to which the plan gives no length, and targets named
 * twice are left out and named.
 */
export function ownOrder(
  wing: Wing,
  targets: readonly Target[],
): { readonly order: Order; readonly leftOut: readonly Target[] } {
  const { steps, leftOut } = stepsOf(wing, targets);
  return { order: { name: "own", steps }, leftOut };
}

function stepsOf(wing: Wing, targets: readonly Target[]): { steps: Step[]; leftOut: Target[] } {
  const rows = new Map<string, Row>([
    ...wing.tabs.map(({ id, side, row }) => [keyOfTarget({ kind: "tab", id, side }), row] as const),
    ...wing.lines.flatMap(({ id, side, row, lengthAssumed }) =>
      lengthAssumed ? [] : [[keyOfTarget({ kind: "line", id, side }), row] as const],
    ),
  ]);
  const seen = new Set<string>();
  const steps: Step[] = [];
  const leftOut: Target[] = [];
  for (const target of targets) {
    const key = keyOfTarget(target);
    const row = rows.get(key);
    if (row === undefined || seen.has(key)) leftOut.push(target);
    else steps.push({ target, row });
    seen.add(key);
  }
  return { steps, leftOut };
}
