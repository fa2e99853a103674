/** What loops leave, row by row, before and after; from the report as it is and the report of a plan. */
import { SAME_LENGTH_M } from "../../diagnosis/rows.ts";
import { ROWS, type Row, type Wing } from "../../plan/model.ts";
import { say } from "../../words/index.ts";
import type { BlockedLine, LoopReport, PathAfter, RowReserve } from "../../workshop/index.ts";
import { sidedName } from "./format.ts";
import { namesOf } from "./workshop-loops.ts";

export interface LeftInRow {
  readonly row: Row;
  readonly read: number;
  readonly before: RowFigures;
  readonly after: RowFigures;
  readonly reserve: RowReserve | undefined;
}

export interface RowFigures {
  readonly meanM: number;
  readonly rmsM: number;
  readonly beyond: number;
}

function figures(paths: readonly PathAfter[], toleranceM: number): RowFigures {
  const values = paths.map(({ predictedM }) => predictedM);
  const mean = (numbers: readonly number[]): number =>
    numbers.reduce((sum, each) => sum + each, 0) / numbers.length;
  return {
    meanM: mean(values),
    rmsM: Math.sqrt(mean(values.map((value) => value * value))),
    beyond: values.filter((value) => Math.abs(value) > toleranceM + SAME_LENGTH_M).length,
  };
}

/** Rows with readings, the brakes left out: they hang on no maillon. */
export function leftByRow(wing: Wing, before: LoopReport, after: LoopReport): readonly LeftInRow[] {
  const rowOf = new Map(wing.paths.map((path) => [path.tabKey, path.row]));
  const of = (report: LoopReport, row: Row): readonly PathAfter[] =>
    report.paths.filter(({ tabKey }) => rowOf.get(tabKey) === row);
  return ROWS.flatMap((row) => {
    const now = of(before, row);
    if (row === "brake" || now.length === 0) return [];
    return [
      {
        row,
        read: now.length,
        before: figures(now, wing.tolerances.pathM),
        after: figures(of(after, row), wing.tolerances.pathM),
        reserve: after.reserve.find((each) => each.row === row),
      },
    ];
  });
}

/** The mean of a row less that of one behind it, before and after. */
export interface RowsApart {
  readonly front: Row;
  readonly rear: Row;
  readonly beforeM: number;
  readonly afterM: number;
  readonly outcome: string;
}

export function rowsApart(before: LoopReport, after: LoopReport): readonly RowsApart[] {
  return after.assessment.assessed.flatMap((each) => {
    const [front, rear] = each.rows;
    if (each.kind !== "rows" || front === undefined || rear === undefined) return [];
    const was = before.assessment.assessed.find(
      ({ kind, subject }) => kind === "rows" && subject === each.subject,
    );
    return [{ front, rear, beforeM: was?.valueM ?? 0, afterM: each.valueM, outcome: each.decision.outcome }];
  });
}

/** Decisions of a kind by outcome, brakes left out. */
export function countOf(
  { assessment }: LoopReport,
  kind: "path" | "pair" | "rows",
): Readonly<Record<"conforms" | "does not conform" | "undecided", number>> {
  const count = { conforms: 0, "does not conform": 0, undecided: 0 };
  for (const each of assessment.assessed)
    if (each.kind === kind && !each.rows.includes("brake")) count[each.decision.outcome] += 1;
  return count;
}

/** Which of a message's cases a reason is. */
const WHY: Readonly<Record<BlockedLine["reason"], string>> = {
  locked: "locked",
  "no other state": "state",
  "not read": "unread",
  "present beyond limit": "limit",
  "present kind not allowed": "kind",
  "row can't move": "row",
};

/** Lines that stand in the way, by reason, in words. */
export function blockedTexts(wing: Wing, blocked: readonly BlockedLine[]): readonly string[] {
  const names = namesOf(wing);
  const sideOf = new Map(wing.lines.map((line) => [line.key, line.side]));
  const nameOf = (lineKey: string): string => {
    const [name, side] = [names.get(lineKey) ?? lineKey, sideOf.get(lineKey)];
    return side === undefined ? name : sidedName(name, side);
  };
  const reasons = new Map<BlockedLine["reason"], string[]>();
  for (const { lineKey, reason } of blocked)
    reasons.set(reason, [...(reasons.get(reason) ?? []), nameOf(lineKey)]);
  return [...reasons].map(([reason, lines]) => {
    const said = lines.length > 6 ? say("loops.lines", { count: lines.length }) : lines.join(", ");
    return say("loops.blocked", { lines: said, reason: WHY[reason] });
  });
}
