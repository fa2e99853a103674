/** What is left in loops to be taken out as a row's lines shrink. */
import { ROWS, type Row } from "../plan/index.ts";
import type { LineLoops } from "../workshop/index.ts";

export interface LoopsLeft {
  readonly row: Row;
  /** Lines of the row that hang on a maillon. */
  readonly lines: number;
  /** Mean and least over the lines of what can be taken out, down to the loosest state [m]. */
  readonly meanM: number;
  readonly leastM: number;
  /** Lines of which nothing more can be taken out. */
  readonly usedUp: readonly string[];
  /** Lines whose present loop was recorded; the others are taken to be as the plan specifies. */
  readonly recorded: number;
}

/** By row; rows of which no line hangs on a maillon are left out. @param loops present states: see `lineLoops` */
export function loopsLeft(loops: readonly LineLoops[]): readonly LoopsLeft[] {
  return ROWS.flatMap((row): LoopsLeft[] => {
    const lines = loops.filter((line) => line.row === row);
    if (lines.length === 0) return [];
    const leftM = lines.map(({ states, present }) => {
      const takeUpsM = states.map(({ takeUpM }) => takeUpM);
      return (takeUpsM[present] as number) - Math.min(...takeUpsM);
    });
    return [
      {
        row,
        lines: lines.length,
        meanM: leftM.reduce((sum, each) => sum + each, 0) / lines.length,
        leastM: Math.min(...leftM),
        usedUp: lines.filter((_, place) => leftM[place] === 0).map(({ lineKey }) => lineKey),
        recorded: lines.filter(({ presentRecorded }) => presentRecorded).length,
      },
    ];
  });
}
