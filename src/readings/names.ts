/** Finds the tab or line that is meant, however its name was spelled. */
import { type Line, SIDES, type Side, type Tab, type Wing } from "../plan/index.ts";
import { lookUp, type WingLookup } from "./lookup.ts";
import type { Target } from "./model.ts";

/** Names of one kind on one side: spelling → the plan's ids that it may mean, from strict to lenient. */
type Names = readonly ReadonlyMap<string, readonly string[]>[];

export interface NameLookup extends WingLookup {
  readonly names: Readonly<Record<Target["kind"], Readonly<Record<Side, Names>>>>;
}

/** What a spelling means: one name of the plan, none, or several that it could be. */
export type NameMatch =
  | { readonly found: "one"; readonly id: string }
  | { readonly found: "none" }
  | { readonly found: "several"; readonly ids: readonly string[] };

const plainSpelling = (name: string): string =>
  name
    .normalize("NFKC")
    .toLowerCase()
    .replace(/(?<!\d)\s+|\s+(?!\d)/gu, "");

/**
 * From strict to lenient: as written; without regard to case and spaces; without a separator between letter and
 * number and without leading zeros. A separator between two numbers always stays one: A1.2 isn't A12.
 */
const SPELLINGS: readonly ((name: string) => string)[] = [
  (name) => name,
  plainSpelling,
  (name) =>
    plainSpelling(name)
      .replace(/(?<=\p{L})[\p{Pd}_./]+(?=\d)/gu, "")
      .replace(/(?<=\d)[\s\p{Pd}_./]+(?=\d)/gu, ".")
      .replace(/(?<!\d)0+(?=\d)/gu, ""),
];

function indexNames(ids: readonly string[]): Names {
  return SPELLINGS.map((spell) => {
    const byName = new Map<string, string[]>();
    for (const id of ids) {
      const name = spell(id);
      byName.set(name, [...(byName.get(name) ?? []), id]);
    }
    return byName;
  });
}

/** Builds the maps once for a wing, by key and by name. */
export function lookUpNames(wing: Wing): NameLookup {
  const bySide = (parts: readonly (Line | Tab)[]): Record<Side, Names> => {
    const [left, right] = SIDES.map((side) =>
      indexNames(parts.filter((part) => part.side === side).map((part) => part.id)),
    );
    return { left: left ?? [], right: right ?? [] };
  };
  return { ...lookUp(wing), names: { tab: bySide(wing.tabs), line: bySide(wing.lines) } };
}

/**
 * The plan's name that `spelling` means on one side. `A 1`, `a1`, `A-1` and `A01` all mean A1 as long as
 * nothing else fits as well; a stricter fit goes before a more lenient one.
 */
export function matchName(lookup: NameLookup, kind: Target["kind"], side: Side, spelling: string): NameMatch {
  const wanted = spelling.trim();
  for (const [strictness, names] of lookup.names[kind][side].entries()) {
    const ids = names.get(SPELLINGS[strictness]?.(wanted) ?? wanted) ?? [];
    if (ids.length > 1) return { found: "several", ids };
    if (ids[0] !== undefined) return { found: "one", id: ids[0] };
  }
  return { found: "none" };
}
