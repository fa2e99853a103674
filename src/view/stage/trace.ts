/** Following a line through the cascade: what it hangs on, what hangs on it, and its mirror twin. */
import type { Line } from "../../plan/model.ts";

export type LineIndex = ReadonlyMap<string, Line>;

export function lineIndex(lines: readonly Line[]): LineIndex {
  return new Map(lines.map((line) => [line.key, line]));
}

/**
 * The lines that a pull on this one runs through: down to the maillon or pulley, and up to every tab it carries.
 *
 * @returns keys without the line's own; empty for an unknown key.
 */
export function pathThrough(lines: LineIndex, key: string): ReadonlySet<string> {
  const found = new Set<string>();
  let below = lines.get(key)?.hangsOn;
  while (below?.kind === "line" && !found.has(below.lineKey)) {
    found.add(below.lineKey);
    below = lines.get(below.lineKey)?.hangsOn;
  }
  const above = [...(lines.get(key)?.carriesLines ?? [])];
  for (let next = above.pop(); next !== undefined; next = above.pop()) {
    if (found.has(next)) continue;
    found.add(next);
    above.push(...(lines.get(next)?.carriesLines ?? []));
  }
  found.delete(key);
  return found;
}

/** Mirror twins of the given lines, without those that are among the given lines themselves. */
export function mirrorTwins(lines: LineIndex, keys: Iterable<string>): ReadonlySet<string> {
  const given = new Set(keys);
  const twins = new Set<string>();
  for (const key of given) {
    const twin = lines.get(key)?.mirrorKey;
    if (twin !== undefined && !given.has(twin)) twins.add(twin);
  }
  return twins;
}
