/**
 * How totals are divided between the tiers of cascades whose lines have no length of their own. The plan's division is a
 * typical one; how far the paths fan out tells more of it, so the fit may move the junctions up and down. No total changes.
 */
import type { Line, Wing } from "../plan/model.ts";

/** Both relative to the plan's typical division, 1 as it is there. */
export interface Split {
  /** Of what rises above the lower lines. */
  readonly rise: number;
  /** Of the middle lines' part in that. */
  readonly middle: number;
}

export const TYPICAL_SPLIT: Split = { rise: 1, middle: 1 };

/** A line at a tab is never made shorter than this [m]. */
const SHORTEST = 0.02;

export interface AssumedSplit {
  /** Whether there is anything to divide, and whether any of it has middle lines. */
  readonly any: boolean;
  readonly anyMiddle: boolean;
  /** Paths that share a lower line, on average over the open trees; 1 where there is none. */
  readonly pathsPerTree: number;
  /** Length of every line whose length the split decides, by line key [m]. */
  lengthsM(split: Split): ReadonlyMap<string, number>;
}

/** The trees of a wing of which no line has a length of its own and whose lowest line carries others. */
export function assumedSplit(wing: Wing): AssumedSplit {
  const lineOf = new Map(wing.lines.map((line) => [line.key, line]));
  const trees = new Map<string, (readonly Line[])[]>();
  for (const path of wing.paths) {
    const chain = path.lineKeys.map((key) => lineOf.get(key) as Line);
    const root = chain[0]?.key ?? "";
    trees.set(root, [...(trees.get(root) ?? []), chain]);
  }
  const open = [...trees.values()].filter((chains) =>
    chains.every((chain) => chain.length > 1 && chain.every((line) => line.lengthAssumed)),
  );
  return {
    any: open.length > 0,
    pathsPerTree: open.length === 0 ? 1 : open.reduce((sum, chains) => sum + chains.length, 0) / open.length,
    anyMiddle: open.some((chains) => chains.some((chain) => chain.length > 2)),
    lengthsM({ rise, middle }) {
      const lengths = new Map<string, number>();
      for (const chains of open) {
        const lower = chains[0]?.[0] as Line;
        const rises = chains.map((chain) => chain.slice(1).reduce((sum, line) => sum + line.lengthM, 0));
        const least = Math.min(...rises);
        const moved = (rise - 1) * least;
        lengths.set(lower.key, lower.lengthM - moved);
        chains.forEach((chain, i) => {
          let left = (rises[i] as number) + moved;
          for (const line of chain.slice(1, -1)) {
            lengths.set(line.key, line.lengthM * rise * middle);
            left -= line.lengthM * rise * middle;
          }
          lengths.set((chain.at(-1) as Line).key, Math.max(SHORTEST, left));
        });
      }
      return lengths;
    },
  };
}

/** The wing with its assumed lengths divided so. */
export function withSplit(wing: Wing, split: Split): Wing {
  const lengths = assumedSplit(wing).lengthsM(split);
  if (lengths.size === 0) return wing;
  return {
    ...wing,
    lines: wing.lines.map((line) => ({ ...line, lengthM: lengths.get(line.key) ?? line.lengthM })),
  };
}
