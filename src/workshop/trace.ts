/** One line traced: what it hangs on down to the riser, what it carries up to the tabs, its twin, and what shares its maillon. */
import { chainTo, type Line, linesByKey, type Row, SIDES, type Tab, type Wing } from "../plan/index.ts";
import { say } from "../words/index.ts";
import { lineName, sayList } from "./wording.ts";

export { lineName, sayList, saySide } from "./wording.ts";

/** Where a chain of lines ends below. */
export type Foot =
  | {
      readonly kind: "maillon";
      readonly maillonId: string;
      /** Undefined where the plan gives none [m]. */
      readonly barDiameterM: number | undefined;
      readonly riserId: string;
      readonly riserLengthM: number;
    }
  | {
      readonly kind: "pulley";
      /** Riser that carries the pulley; undefined where the plan has no brakes. */
      readonly riserId: string | undefined;
    };

export interface LineTrace {
  readonly line: Line;
  /** Lines below, downwards: what it hangs on, then what that hangs on; none for a lower line. */
  readonly below: readonly Line[];
  readonly foot: Foot;
  /** What ends in its upper eye. */
  readonly carriesLines: readonly Line[];
  readonly carriesTabs: readonly Tab[];
  /** All lines above it, in the plan's order. */
  readonly above: readonly Line[];
  /** All tabs above it, in the plan's order. */
  readonly tabs: readonly Tab[];
  readonly twin: Line | undefined;
  /** Every line whose eye is on the same maillon, or that goes through the same pulley, its own lower line included, in the plan's order. */
  readonly onFoot: readonly Line[];
  /** Other lines that hang on what it hangs on itself, in the plan's order. */
  readonly siblings: readonly Line[];
}

/**
 * Traces a line down and up.
 *
 * @throws RangeError for a key that the wing doesn't have
 */
export function traceLine(wing: Wing, lineKey: string): LineTrace {
  const lines = linesByKey(wing);
  const line = lines.get(lineKey);
  if (line === undefined) throw new RangeError(`The wing "${wing.name}" has no line ${lineKey}.`);
  const chain = chainTo(lineKey, lines);
  const lowest = chain[0] as Line;
  const tabs = new Map(wing.tabs.map((tab) => [tab.key, tab]));
  const above = new Set<string>();
  const tabsAbove = new Set<string>();
  for (const { lineKeys, tabKey } of wing.paths) {
    const at = lineKeys.indexOf(lineKey);
    if (at < 0) continue;
    tabsAbove.add(tabKey);
    for (const key of lineKeys.slice(at + 1)) above.add(key);
  }
  const fixedTo = (one: Line): string => {
    const on = one.hangsOn;
    return on.kind === "line"
      ? `line ${on.lineKey}`
      : on.kind === "maillon"
        ? `maillon ${on.maillonId}`
        : on.kind;
  };
  const alike = (one: Line): readonly Line[] =>
    wing.lines.filter((other) => other.side === one.side && fixedTo(other) === fixedTo(one));
  return {
    line,
    below: chain.slice(0, -1).reverse(),
    foot: footOf(wing, lowest),
    carriesLines: line.carriesLines.map((key) => lines.get(key) as Line),
    carriesTabs: line.carriesTabs.map((key) => tabs.get(key) as Tab),
    above: wing.lines.filter((other) => above.has(other.key)),
    tabs: wing.tabs.filter((tab) => tabsAbove.has(tab.key)),
    twin: line.mirrorKey === undefined ? undefined : lines.get(line.mirrorKey),
    onFoot: alike(lowest),
    siblings: alike(line).filter((other) => other.key !== lineKey),
  };
}

function footOf(wing: Wing, { hangsOn }: Line): Foot {
  if (hangsOn.kind !== "maillon") return { kind: "pulley", riserId: wing.brakes?.pulleyRiserId };
  const maillon = wing.maillons.find(({ id }) => id === hangsOn.maillonId);
  const riser = wing.risers.find(({ id }) => id === maillon?.riserId);
  if (maillon === undefined || riser === undefined)
    throw new Error(`no maillon "${hangsOn.maillonId}" with a riser in the wing`);
  return {
    kind: "maillon",
    maillonId: maillon.id,
    barDiameterM: maillon.barDiameterM,
    riserId: riser.id,
    riserLengthM: riser.lengthM,
  };
}

/** Tier by the trade's names. One that ends at the canopy is an upper line, unless it is the lower line too. */
export function tierWord({
  tier,
  carriesLines,
}: Pick<Line, "tier" | "carriesLines">): "lower" | "middle" | "upper" {
  if (tier === 1) return "lower";
  return carriesLines.length === 0 ? "upper" : "middle";
}

/** `row A`, `tip`, `brake`. */
export function rowWord(row: Row): string {
  return say("workshop.row", { row });
}

/** What kind of line it is: `lower line, row A`. */
export function sayLineKind({
  tier,
  row,
}: {
  readonly tier: ReturnType<typeof tierWord>;
  readonly row: Row;
}) {
  return say("workshop.line.kind", { tier, row });
}

/** What the line's lower end is fixed to, in words. */
export function sayLowerEnd({ below, foot }: Pick<LineTrace, "below" | "foot">): string {
  const [next] = below;
  if (next !== undefined) return say("workshop.trace.end.line", { line: next.id });
  return foot.kind === "maillon"
    ? say("workshop.trace.end.maillon", { maillon: foot.maillonId })
    : say("workshop.trace.end.brake");
}

/** What joins at the line's upper end, in words: lines by name, tabs as "tab A3". */
export function sayUpperEnd({
  carriesLines,
  carriesTabs,
}: Pick<LineTrace, "carriesLines" | "carriesTabs">): string {
  const lines = carriesLines.map(({ id }) => id);
  return sayList([...lines, ...carriesTabs.map(({ id }) => say("workshop.tab", { id }))]);
}

/** Where the line is, in sentences. */
export function sayTrace(trace: LineTrace): string {
  const { line, below, foot, tabs, twin, carriesLines } = trace;
  const [first = "", second = "", third = ""] = below.map(({ id }) => id);
  return [
    say("workshop.trace.what", { name: lineName(line), tier: tierWord(line), row: line.row }),
    say("workshop.trace.down", {
      below: below.length,
      first,
      second,
      third,
      foot: foot.kind,
      maillon: foot.kind === "maillon" ? foot.maillonId : "",
      riser: foot.riserId ?? "",
    }),
    say("workshop.trace.up", {
      carries: sayUpperEnd(trace),
      lines: carriesLines.length,
      tabs: tabs.length,
      names: sayList(tabs.map(({ id }) => id)),
    }),
    twin === undefined
      ? say("workshop.trace.twin.none")
      : say("workshop.trace.twin", { name: lineName(twin) }),
  ].join(" ");
}

/** The keys with those of their mirror twins, in the plan's order. */
export function withTwins(wing: Wing, lineKeys: Iterable<string>): readonly string[] {
  const wanted = new Set(lineKeys);
  return wing.lines.flatMap(({ key, mirrorKey }) =>
    wanted.has(key) || (mirrorKey !== undefined && wanted.has(mirrorKey)) ? [key] : [],
  );
}

/** Left before right, for sorting. */
export function sideOrder(one: Pick<Line, "side">, other: Pick<Line, "side">): number {
  return SIDES.indexOf(one.side) - SIDES.indexOf(other.side);
}
