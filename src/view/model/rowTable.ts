/** The rows beside each other: means, left against right, worst, count out of tolerance, and a mark per tab for the tapes. */
import type { Analysis } from "../../diagnosis/model.ts";
import type { Row, Side } from "../../plan/model.ts";
import { sidedName } from "./format.ts";

export interface RowMark {
  readonly tabKey: string;
  readonly lineKey: string;
  readonly side: Side;
  readonly deviationM: number;
}

export interface RowEntry {
  readonly row: Row;
  readonly measured: number;
  readonly total: number;
  readonly meanM: number | undefined;
  readonly leftM: number | undefined;
  readonly rightM: number | undefined;
  /** Left mean − right mean [m]. */
  readonly leftMinusRightM: number | undefined;
  readonly worstM: number | undefined;
  /** The tab with the largest deviation, as the plan names it, with its side: "C7 left". */
  readonly worstAt: string | undefined;
  readonly outOfTolerance: number;
  readonly marks: readonly RowMark[];
}

/** One entry a row, front to rear. */
export function rowEntries(analysis: Analysis): readonly RowEntry[] {
  const tabs = new Map(analysis.wing.tabs.map((tab) => [tab.key, tab]));
  return analysis.rows.map((summary): RowEntry => {
    const worst = summary.worstTabKey === undefined ? undefined : tabs.get(summary.worstTabKey);
    return {
      row: summary.row,
      measured: summary.measured,
      total: summary.total,
      meanM: summary.meanM,
      leftM: summary.leftM,
      rightM: summary.rightM,
      leftMinusRightM:
        summary.leftM === undefined || summary.rightM === undefined
          ? undefined
          : summary.leftM - summary.rightM,
      worstM: summary.worstM,
      worstAt: worst === undefined ? undefined : sidedName(worst.id, worst.side),
      outOfTolerance: summary.outOfTolerance,
      marks: analysis.deviations.paths.flatMap((path) => {
        const lineKey = tabs.get(path.tabKey)?.lineKey;
        return path.row !== summary.row || path.deviationM === undefined || lineKey === undefined
          ? []
          : [{ tabKey: path.tabKey, lineKey, side: path.side, deviationM: path.deviationM }];
      }),
    };
  });
}
