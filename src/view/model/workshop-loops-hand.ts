/** Loops changed by hand: each line with its states, and a step from one to the next, its mirror twin along or not. */
import type { Row, Side, Wing } from "../../plan/model.ts";
import type { ChosenLoops, LineLoops, LoopState } from "../../workshop/index.ts";
import { byRow, namesOf } from "./workshop-loops.ts";

/** One line's eye, as it is and as it is tried. */
export interface HandLine {
  readonly lineKey: string;
  readonly name: string;
  readonly side: Side;
  readonly states: readonly LoopState[];
  readonly present: number;
  readonly recorded: boolean;
  readonly specified: number;
  /** The state that it's tried in, or the present one. */
  readonly now: number;
  readonly mirrorKey: string | undefined;
}

/** A line's name, and the line on each side that there is. */
export interface HandEntry {
  readonly row: Row;
  readonly name: string;
  readonly sides: Readonly<Partial<Record<Side, HandLine>>>;
}

export function handLine(line: LineLoops, name: string, chosen: ChosenLoops): HandLine {
  const kindId = chosen.get(line.lineKey);
  const tried = line.states.findIndex(({ kind }) => kind.id === kindId);
  return {
    lineKey: line.lineKey,
    name,
    side: line.side,
    states: line.states,
    present: line.present,
    recorded: line.presentRecorded,
    specified: line.specified,
    now: tried < 0 ? line.present : tried,
    mirrorKey: line.mirrorKey,
  };
}

/** All lines on maillons by row, both sides beside each other. */
export function handRows(
  wing: Wing,
  loops: readonly LineLoops[],
  chosen: ChosenLoops,
): readonly (readonly [Row, readonly HandEntry[]])[] {
  const names = namesOf(wing);
  const entries = new Map<string, HandEntry>();
  for (const line of loops) {
    const name = names.get(line.lineKey) ?? line.lineKey;
    const id = `${line.row} ${name}`;
    const sides = { ...entries.get(id)?.sides, [line.side]: handLine(line, name, chosen) };
    entries.set(id, { row: line.row, name, sides });
  }
  return byRow([...entries.values()]);
}

/**
 * The choice with one line tied otherwise; with its twin, the twin gets the same kind where it can have it. A loop that is
 * as it is now is none that is tried.
 *
 * @param to index among the line's states
 */
export function tiedByHand(
  loops: readonly LineLoops[],
  chosen: ChosenLoops,
  lineKey: string,
  to: number,
  withTwin: boolean,
): ChosenLoops {
  const line = loops.find((each) => each.lineKey === lineKey);
  const kindId = line?.states[to]?.kind.id;
  if (line === undefined || kindId === undefined) return chosen;
  const twin = withTwin ? loops.find((each) => each.lineKey === line.mirrorKey) : undefined;
  const next = new Map(chosen);
  for (const each of twin === undefined ? [line] : [line, twin]) {
    const state = each.states.findIndex(({ kind }) => kind.id === kindId);
    if (state < 0) continue;
    if (state === each.present) next.delete(each.lineKey);
    else next.set(each.lineKey, kindId);
  }
  return next;
}
