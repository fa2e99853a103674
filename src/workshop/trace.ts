/** One line traced: what it hangs on down to the riser, what it carries up to the tabs, its twin, and what shares its maillon. */
import { chainTo, type Line, linesByKey, type Row, SIDES, type Tab, type Wing } from "../plan/index.ts";

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

/** A line by name and side: `AL2 left`. */
export function lineName({ id, side }: Pick<Line, "id" | "side">): string {
  return `${id} ${side}`;
}

/** Tier in the trade's words. One that ends at the canopy is an upper line, unless it is the lower line too. */
export function tierWord({
  tier,
  carriesLines,
}: Pick<Line, "tier" | "carriesLines">): "lower" | "middle" | "upper" {
  if (tier === 1) return "lower";
  return carriesLines.length === 0 ? "upper" : "middle";
}

/** `row A`, `tip`, `brake`, to stand before "line". */
export function rowWord(row: Row): string {
  return row === "tip" || row === "brake" ? row : `row ${row}`;
}

/** Names as they are said: `A1`, `A1 and A2`, `A1, A2 and A3`. */
export function sayList(names: readonly string[]): string {
  const last = names.at(-1);
  if (last === undefined) return "nothing";
  return names.length === 1 ? last : `${names.slice(0, -1).join(", ")} and ${last}`;
}

/** What the line's lower end is fixed to, in words. */
export function sayLowerEnd({ below, foot }: Pick<LineTrace, "below" | "foot">): string {
  const [next] = below;
  if (next !== undefined) return `line ${next.id}`;
  return foot.kind === "maillon" ? `maillon ${foot.maillonId}` : "brake handle, through the pulley";
}

/** What joins at the line's upper end, in words: lines by name, tabs as "tab A3". */
export function sayUpperEnd({
  carriesLines,
  carriesTabs,
}: Pick<LineTrace, "carriesLines" | "carriesTabs">): string {
  const lines = carriesLines.map(({ id }) => id);
  const tabs = carriesTabs.map(({ id }) => `tab ${id}`);
  return sayList([...lines, ...tabs]);
}

/** Where the line is, in sentences. */
export function sayTrace(trace: LineTrace): string {
  const { line, below, foot, tabs, twin, carriesLines } = trace;
  const down = below.map(({ id }) => `on ${id}`).join(", that ");
  const end =
    foot.kind === "maillon"
      ? `on maillon ${foot.maillonId} of riser ${foot.riserId}`
      : "on the brake handle, through the pulley";
  const way = below.length === 0 ? `It hangs ${end}.` : `It hangs ${down}, that ${end}.`;
  const up = `It carries ${sayUpperEnd(trace)}${
    carriesLines.length === 0
      ? ""
      : `, and above ${tabs.length === 1 ? "tab" : "tabs"} ${sayList(tabs.map(({ id }) => id))}`
  }.`;
  const pair =
    twin === undefined
      ? "The plan has no twin of it on the other side."
      : `Its mirror twin is ${lineName(twin)}.`;
  return `${lineName(line)} is ${tierWord(line) === "upper" ? "an" : "a"} ${tierWord(line)} line of ${place(line.row)}. ${way} ${up} ${pair}`;
}

function place(row: Row): string {
  return row === "tip" ? "the tip" : row === "brake" ? "the brakes" : `row ${row}`;
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
