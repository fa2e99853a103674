/** Who hangs on whom in one half of a plan file, as far as the file lets it be told. */
import type { PlanLine, PlanTab, SparsePlanLine } from "./schema.ts";
import { PULLEY } from "./schema.ts";

/** What a line's `hangsOn` turns out to be. */
export type Footing =
  | { readonly kind: "maillon" | "pulley" | "line" }
  /** Neither a maillon nor a line has this name. */
  | { readonly kind: "unknown" }
  /** A maillon and another line have this name, and the line's tier says that the line is meant. */
  | { readonly kind: "ambiguous" };

export interface Placed<T> {
  readonly item: T;
  /** Index in the file's list. */
  readonly index: number;
}

/** An id that is given more than once in a list. */
export interface Double {
  readonly id: string;
  readonly indices: readonly number[];
}

export interface Cascade<L extends SparsePlanLine = PlanLine> {
  /** By id; of an id given twice, the first. */
  readonly lines: ReadonlyMap<string, Placed<L>>;
  readonly tabs: ReadonlyMap<string, Placed<PlanTab>>;
  readonly doubleLines: readonly Double[];
  readonly doubleTabs: readonly Double[];
  readonly footing: ReadonlyMap<string, Footing>;
  /** Ids of the lines that hang on a line. */
  readonly linesOn: ReadonlyMap<string, readonly string[]>;
  /** Ids of the tabs at a line. */
  readonly tabsOn: ReadonlyMap<string, readonly string[]>;
  /** Lines that hang on each other in a circle: each member hangs on the next, the last on the first. */
  readonly circles: readonly (readonly string[])[];
  /** Chain of line ids, lowest first, for every line that reaches a maillon or pulley. */
  readonly chains: ReadonlyMap<string, readonly string[]>;
}

/** The entries of a list by id, the first of each, and the ids that stand more than once. */
export function byId<T extends { readonly id: string }>(
  list: readonly T[],
): { readonly first: ReadonlyMap<string, Placed<T>>; readonly doubles: readonly Double[] } {
  const first = new Map<string, Placed<T>>();
  const indices = new Map<string, number[]>();
  list.forEach((item, index) => {
    if (!first.has(item.id)) first.set(item.id, { item, index });
    indices.set(item.id, [...(indices.get(item.id) ?? []), index]);
  });
  const doubles = [...indices].filter(([, at]) => at.length > 1).map(([id, at]) => ({ id, indices: at }));
  return { first, doubles };
}

function footingOf(
  line: SparsePlanLine,
  lineIds: ReadonlyMap<string, unknown>,
  maillonIds: ReadonlySet<string>,
): Footing {
  const on = line.hangsOn;
  if (on === PULLEY) return { kind: "pulley" };
  if (maillonIds.has(on)) {
    const lineIsMeant = on !== line.id && lineIds.has(on) && line.tier > 1;
    return { kind: lineIsMeant ? "ambiguous" : "maillon" };
  }
  return { kind: lineIds.has(on) ? "line" : "unknown" };
}

/** The cascade of one half, whatever is wrong with it. Never throws. */
export function cascadeOf<L extends SparsePlanLine>(
  half: { readonly lines: readonly L[]; readonly tabs: readonly PlanTab[] },
  maillonIds: ReadonlySet<string>,
): Cascade<L> {
  const { first: lines, doubles: doubleLines } = byId(half.lines);
  const { first: tabs, doubles: doubleTabs } = byId(half.tabs);
  const footing = new Map<string, Footing>();
  const linesOn = new Map<string, string[]>();
  const tabsOn = new Map<string, string[]>();
  for (const [id, { item }] of lines) {
    const foot = footingOf(item, lines, maillonIds);
    footing.set(id, foot);
    if (foot.kind === "line") linesOn.set(item.hangsOn, [...(linesOn.get(item.hangsOn) ?? []), id]);
  }
  for (const [id, { item }] of tabs) tabsOn.set(item.line, [...(tabsOn.get(item.line) ?? []), id]);

  const below = (id: string): string | undefined =>
    footing.get(id)?.kind === "line" ? lines.get(id)?.item.hangsOn : undefined;
  const circles: string[][] = [];
  const seen = new Set<string>();
  for (const start of lines.keys()) {
    const way: string[] = [];
    let at: string | undefined = start;
    while (at !== undefined && !seen.has(at)) {
      seen.add(at);
      way.push(at);
      at = below(at);
    }
    const closes = at === undefined ? -1 : way.indexOf(at);
    if (closes >= 0) circles.push(way.slice(closes));
  }

  const chains = new Map<string, readonly string[]>();
  for (const start of lines.keys()) {
    const chain: string[] = [];
    let at: string | undefined = start;
    while (at !== undefined && !chain.includes(at)) {
      chain.unshift(at);
      at = below(at);
    }
    const lowest = footing.get(chain[0] ?? "")?.kind;
    if (at === undefined && (lowest === "maillon" || lowest === "pulley")) chains.set(start, chain);
  }
  return { lines, tabs, doubleLines, doubleTabs, footing, linesOn, tabsOn, circles, chains };
}

/** Ids of the tabs that hang on any of the given lines, directly or through lines above. */
export function tabsAbove(cascade: Cascade<SparsePlanLine>, lineIds: readonly string[]): readonly string[] {
  const found = new Set<string>();
  const open = [...lineIds];
  const done = new Set<string>();
  for (let id = open.pop(); id !== undefined; id = open.pop()) {
    if (done.has(id)) continue;
    done.add(id);
    for (const tab of cascade.tabsOn.get(id) ?? []) found.add(tab);
    open.push(...(cascade.linesOn.get(id) ?? []));
  }
  return [...cascade.tabs.keys()].filter((tab) => found.has(tab));
}
