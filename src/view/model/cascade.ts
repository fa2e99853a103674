/** Who carries whom: from a line up to the tabs it bears, and what its tier is called. */
import type { Line, Tab, Wing } from "../../plan/model.ts";
import { say } from "../../words/index.ts";

export interface Cascade {
  readonly lines: ReadonlyMap<string, Line>;
  readonly tabs: ReadonlyMap<string, Tab>;
  /** Line key → keys of all tabs above it, in the wing's tab order. */
  readonly tabsAbove: ReadonlyMap<string, readonly string[]>;
}

/** Indexes a wing's lines and tabs by key, with the tabs above each line (from the paths). */
export function cascadeOf(wing: Wing): Cascade {
  const tabsAbove = new Map<string, string[]>(wing.lines.map((line) => [line.key, []]));
  for (const path of wing.paths) for (const key of path.lineKeys) tabsAbove.get(key)?.push(path.tabKey);
  return {
    lines: new Map(wing.lines.map((line) => [line.key, line])),
    tabs: new Map(wing.tabs.map((tab) => [tab.key, tab])),
    tabsAbove,
  };
}

/** The tabs that any of these lines bears. */
export function tabsUnder(cascade: Cascade, lineKeys: Iterable<string>): ReadonlySet<string> {
  const found = new Set<string>();
  for (const key of lineKeys) for (const tab of cascade.tabsAbove.get(key) ?? []) found.add(tab);
  return found;
}

/** The tier in the trade's words: lower, middle, upper; a lower line straight to the canopy says so. */
export function tierName(line: Line): string {
  return say("panes.tier", { tier: tierCase(line), number: line.tier });
}

function tierCase(line: Line): "direct" | "lower" | "middle" | "upper" | "between" {
  if (line.tier === 1)
    return line.carriesTabs.length > 0 && line.carriesLines.length === 0 ? "direct" : "lower";
  if (line.carriesLines.length === 0) return "upper";
  return line.tier === 2 ? "middle" : "between";
}

/** What the line's lower end is fixed to, in words. */
export function hangsOnText(line: Line, cascade: Cascade): string {
  switch (line.hangsOn.kind) {
    case "maillon":
      return say("panes.hangs.maillon", { id: line.hangsOn.maillonId });
    case "line":
      return cascade.lines.get(line.hangsOn.lineKey)?.id ?? line.hangsOn.lineKey;
    case "pulley":
      return say("panes.hangs.pulley");
  }
}

/** What hangs above, in words: the lines by name, and tabs as "tab A3". */
export function carriesText(line: Line, cascade: Cascade): string {
  const lines = line.carriesLines.map((key) => cascade.lines.get(key)?.id ?? key);
  const tabs = line.carriesTabs.map((key) =>
    say("panes.carries.tab", { id: cascade.tabs.get(key)?.id ?? key }),
  );
  return [...lines, ...tabs].join(", ") || say("panes.carries.none");
}
