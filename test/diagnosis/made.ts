/** Deviations made up for a wing: what would have been read if its lines had changed so. */
import type { Path, Wing } from "../../src/plan/model.ts";
import type { Deviations } from "../../src/readings/model.ts";

/**
 * @param ofPath deviation of one path [m], or undefined where it wasn't read
 * @param ownLines lines read on their own and their deviations [m]
 */
export function madeDeviations(
  wing: Wing,
  ofPath: (path: Path, index: number) => number | undefined,
  ownLines: ReadonlyMap<string, number> = new Map(),
): Deviations {
  return {
    paths: wing.paths.map((path, i) => {
      const deviationM = ofPath(path, i);
      return {
        tabKey: path.tabKey,
        side: path.side,
        row: path.row,
        specifiedM: path.specifiedM,
        measuredM: deviationM === undefined ? undefined : path.specifiedM + deviationM,
        deviationM,
        repeats: deviationM === undefined ? 0 : 1,
        repeatSpreadM: undefined,
      };
    }),
    lines: wing.lines.flatMap((line) => {
      const deviationM = ownLines.get(line.key);
      if (deviationM === undefined) return [];
      return [
        { lineKey: line.key, specifiedM: line.lengthM, measuredM: line.lengthM + deviationM, deviationM },
      ];
    }),
  };
}

/** Paths as they'd be read if the lines had changed by these amounts [m]. */
export function pathsOfChanges(changes: ReadonlyMap<string, number>): (path: Path) => number {
  return (path) => path.lineKeys.reduce((sum, key) => sum + (changes.get(key) ?? 0), 0);
}
