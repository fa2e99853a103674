/** A wing's parts by their keys. */
import { type Line, linesByKey, type Material, type Path, type Wing } from "../plan/index.ts";
import type { Target } from "./model.ts";

export interface WingLookup {
  readonly wing: Wing;
  readonly lines: ReadonlyMap<string, Line>;
  /** Tab key → path. */
  readonly paths: ReadonlyMap<string, Path>;
  readonly materials: ReadonlyMap<string, Material>;
  /** Kind, side and id → key. */
  readonly keys: ReadonlyMap<string, string>;
}

/** Builds the maps once for a wing. */
export function lookUp(wing: Wing): WingLookup {
  return {
    wing,
    lines: linesByKey(wing),
    paths: new Map(wing.paths.map((path) => [path.tabKey, path])),
    materials: new Map(wing.materials.map((material) => [material.id, material])),
    keys: new Map([
      ...wing.lines.map((line) => [`line ${line.side} ${line.id}`, line.key] as const),
      ...wing.tabs.map((tab) => [`tab ${tab.side} ${tab.id}`, tab.key] as const),
    ]),
  };
}

/** Key of a target's tab or line in the wing, if the wing has it. */
export function targetKey(lookup: WingLookup, target: Target): string | undefined {
  return lookup.keys.get(`${target.kind} ${target.side} ${target.id}`);
}
