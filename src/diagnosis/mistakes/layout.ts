/** A check's typed values laid out by tab: where each stands along its row, what it should read, what it was read as. */
import type { Row, Side, Wing } from "../../plan/model.ts";
import { expectedReadingM } from "../../readings/corrections.ts";
import { lookUp } from "../../readings/lookup.ts";
import type { Check, Target } from "../../readings/model.ts";
import type { MistakeOptions } from "./model.ts";

/** One tab. */
export interface Place {
  readonly target: Target;
  readonly side: Side;
  readonly row: Row;
  readonly rib: number;
  /** `left A`. */
  readonly group: string;
  /** Along its row from −1 (innermost) to 1 (outermost). */
  readonly along: number;
  /** Indices of the lines below that it shares with other tabs of its row, but not with all, within {@link Layout.shared}. */
  readonly shared: readonly number[];
  /** The reading of a line that is as specified, under the check's conditions [m]. */
  readonly shouldReadM: number;
  /** Index of the same tab on the other side. */
  readonly mirror: number | undefined;
  /** Riser strap in the path [m]; for a brake the pulley's height. */
  readonly strapM: number;
}

export interface Layout {
  readonly wing: Wing;
  readonly check: Check;
  /** In the order of the wing's tabs. */
  readonly places: readonly Place[];
  /** Indices of tabs by row and side. */
  readonly groups: ReadonlyMap<string, readonly number[]>;
  /** Part of the wing's half-span that each row and side covers, 0 to 1. */
  readonly cover: ReadonlyMap<string, number>;
  /** Tabs that each shared line carries. */
  readonly shared: readonly (readonly number[])[];
  /** Tab indices in the order of calling, a list for each sequence. */
  readonly sequences: readonly (readonly number[])[];
  /** Values typed for each tab [m]. */
  readonly valuesM: readonly (readonly number[])[];
}

/** Lays out a check. Readings of tabs that the wing doesn't have are left out. */
export function layOut(wing: Wing, check: Check, options: MistakeOptions = {}): Layout {
  const lookup = lookUp(wing);
  const indexOf = new Map(wing.tabs.map((tab, i) => [tab.key, i]));
  const groups = new Map<string, number[]>();
  wing.tabs.forEach((tab, i) => {
    const key = groupOf(tab.side, tab.row);
    groups.set(key, [...(groups.get(key) ?? []), i]);
  });
  const { shared, sharedBy } = sharedLines(wing, groups);
  const strapOf = new Map(wing.risers.map((riser) => [riser.id, riser.lengthM]));
  const places = wing.tabs.map((tab, i): Place => {
    const target: Target = { kind: "tab", id: tab.id, side: tab.side };
    const group = groupOf(tab.side, tab.row);
    const ribs = (groups.get(group) as number[]).map((other) => wing.tabs[other]?.rib as number);
    const [inner, outer] = [Math.min(...ribs), Math.max(...ribs)];
    const riserId = wing.paths[i]?.riserId;
    return {
      target,
      side: tab.side,
      row: tab.row,
      rib: tab.rib,
      group,
      along: outer > inner ? (2 * (tab.rib - inner)) / (outer - inner) - 1 : 0,
      shared: sharedBy[i] as number[],
      shouldReadM: expectedReadingM(lookup, target, check) as number,
      mirror: tab.mirrorKey === undefined ? undefined : indexOf.get(tab.mirrorKey),
      strapM: riserId === undefined ? (wing.brakes?.pulleyHeightM ?? 0) : (strapOf.get(riserId) ?? 0),
    };
  });
  const byTarget = new Map(places.map(({ target }, i) => [`${target.side} ${target.id}`, i]));
  const valuesM: number[][] = places.map(() => []);
  for (const { target, valuesM: values } of check.readings) {
    if (target.kind !== "tab") continue;
    const tab = byTarget.get(`${target.side} ${target.id}`);
    if (tab !== undefined) valuesM[tab]?.push(...values);
  }
  const sequences = options.callingOrder
    ? [options.callingOrder.flatMap(({ side, id }) => byTarget.get(`${side} ${id}`) ?? [])]
    : (["left", "right"] as const).map((side) =>
        places.flatMap((place, i) => (place.side === side ? [i] : [])),
      );
  const outermost = Math.max(1, ...wing.tabs.map((tab) => tab.rib));
  const cover = new Map(
    [...groups].map(([group, tabs]) => {
      const ribs = tabs.map((tab) => places[tab]?.rib as number);
      return [group, (Math.max(...ribs) - Math.min(...ribs)) / outermost];
    }),
  );
  return { wing, check, places, groups, cover, shared, sequences, valuesM };
}

export function groupOf(side: Side, row: Row): string {
  return `${side} ${row}`;
}

/** Lines that carry at least two tabs of a row and side, but not all of them. */
function sharedLines(wing: Wing, groups: ReadonlyMap<string, readonly number[]>) {
  const shared: number[][] = [];
  const sharedBy: number[][] = wing.tabs.map(() => []);
  for (const tabs of groups.values()) {
    const above = new Map<string, number[]>();
    for (const tab of tabs)
      for (const key of wing.paths[tab]?.lineKeys ?? []) above.set(key, [...(above.get(key) ?? []), tab]);
    const seen = new Set<string>();
    for (const carried of above.values()) {
      // Two lines in a row that carry the same tabs can't be told apart by totals.
      const name = carried.join(" ");
      if (carried.length < 2 || carried.length === tabs.length || seen.has(name)) continue;
      seen.add(name);
      for (const tab of carried) sharedBy[tab]?.push(shared.length);
      shared.push(carried);
    }
  }
  return { shared, sharedBy };
}

/** Deviations of all values of a tab [m]: reading less what it should read as specified. */
export function deviationsAt(
  layout: Layout,
  tab: number,
  valuesM = layout.valuesM[tab] ?? [],
): readonly number[] {
  const should = layout.places[tab]?.shouldReadM as number;
  return valuesM.map((value) => value - should);
}
