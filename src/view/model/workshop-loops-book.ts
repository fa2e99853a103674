/** The bench's book on the screen: present loops row by row, take-ups by bar and line, and the entries that are made. */
import type { Row, Wing } from "../../plan/model.ts";
import { fixed } from "../../words/index.ts";
import {
  type BenchTakeUp,
  benchTakeUp,
  estimateHolds,
  estimateTakeUp,
  isGiven,
  type LineLoops,
  LOOP_KINDS,
  type LoopBook,
  type LoopChoices,
  type LoopKind,
  PLAIN,
  type TakeUp,
  USUAL_BAR_M,
} from "../../workshop/index.ts";
import { lengthFigure } from "./workshop-figures.ts";

/** One loop on one bar with lines of one diameter: as estimated, as measured, as the plan gives it. */
export interface TakeUpRow {
  readonly kind: LoopKind;
  /** How the estimate comes about, in figures; undefined where there is none. */
  readonly formula: string | undefined;
  readonly estimate: TakeUp | undefined;
  readonly bench: TakeUp | undefined;
  /** The plan's figures for lines that it specifies this loop for [m], each once. */
  readonly planM: readonly number[];
}

export interface TakeUpGroup {
  readonly barM: number;
  readonly barAssumed: boolean;
  readonly lineM: number;
  readonly maillons: readonly string[];
  readonly lines: number;
  /** False outside of what the estimate is meant for. */
  readonly holds: boolean;
  readonly rows: readonly TakeUpRow[];
}

/** Diameters that are the same to a micrometre are. */
const micrometres = (metres: number): string => (metres * 1e6).toFixed(0);

/** Groups of bar and line, in the order of the lines. */
export function takeUpGroups(
  wing: Wing,
  loops: readonly LineLoops[],
  bench: readonly BenchTakeUp[],
): readonly TakeUpGroup[] {
  const bars = new Map(wing.maillons.map((maillon) => [maillon.id, maillon.barDiameterM]));
  const lineOf = new Map(wing.lines.map((line) => [line.key, line]));
  const thick = new Map(wing.materials.map((material) => [material.id, material.diameterM]));
  const groups = new Map<string, { barM: number; barAssumed: boolean; lineM: number; of: LineLoops[] }>();
  for (const each of loops) {
    const barM = bars.get(each.maillonId) ?? USUAL_BAR_M;
    const lineM = thick.get(lineOf.get(each.lineKey)?.materialId ?? "");
    if (lineM === undefined) continue;
    const id = [micrometres(barM), micrometres(lineM), each.barAssumed].join("|");
    const of = [...(groups.get(id)?.of ?? []), each];
    groups.set(id, { barM, barAssumed: each.barAssumed, lineM, of });
  }
  return [...groups.values()].map(({ barM, barAssumed, lineM, of }) => {
    const kinds = new Map(
      [...LOOP_KINDS, ...of.flatMap(({ states }) => states.map(({ kind }) => kind))].map((kind) => [
        kind.id,
        kind,
      ]),
    );
    kinds.delete(PLAIN.id);
    return {
      barM,
      barAssumed,
      lineM,
      maillons: [...new Set(of.map(({ maillonId }) => maillonId))],
      lines: of.length,
      holds: estimateHolds(barM, lineM),
      rows: [...kinds.values()].map((kind) => ({
        kind,
        formula: formulaOf(kind, barM, lineM),
        estimate: estimateTakeUp(kind, barM, lineM, barAssumed),
        bench: benchTakeUp(bench, kind.id, barM, lineM),
        planM: [
          ...new Set(
            of.flatMap(({ states }) =>
              states.flatMap((state) =>
                state.kind.id === kind.id && state.source === "plan" ? [state.takeUpM] : [],
              ),
            ),
          ),
        ],
      })),
    };
  });
}

/** `π × (4.5 + 2.1) / 2 + 2.07 × 2.1`. */
function formulaOf(kind: LoopKind, barM: number, lineM: number): string | undefined {
  if (isGiven(kind)) return undefined;
  const turns = kind.turns === 1 ? "" : `${kind.turns} × `;
  const [bar, line] = [lengthFigure(barM), lengthFigure(lineM)];
  return `${turns}π × (${bar} + ${line}) / 2${kind.girth ? ` + ${fixed(2.07, 2)} × ${line}` : ""}`;
}

/** Records one loop for some lines; undefined: not recorded, so as specified. */
export function withPresent(
  book: LoopBook,
  lineKeys: readonly string[],
  kindId: string | undefined,
): LoopBook {
  const present = new Map(book.present);
  const presentTakeUpM = new Map(book.presentTakeUpM);
  for (const key of lineKeys) {
    if (present.get(key) === kindId) continue;
    // What was measured on this very line was of the loop before.
    presentTakeUpM.delete(key);
    if (kindId === undefined) present.delete(key);
    else present.set(key, kindId);
  }
  const same =
    present.size === book.present.size && [...present].every(([key, id]) => book.present.get(key) === id);
  return same ? book : { ...book, present, presentTakeUpM };
}

/** Kinds that a line's present loop can be recorded as: those with a known take-up there. */
export function kindsOf(lines: readonly LineLoops[]): readonly LoopKind[] {
  const [first, ...rest] = lines;
  return (first?.states ?? [])
    .map(({ kind }) => kind)
    .filter((kind) => rest.every(({ states }) => states.some((state) => state.kind.id === kind.id)));
}

/** The kind that some lines are all recorded as; `specified` where none is recorded, `mixed` otherwise. */
export function recordedAs(lines: readonly LineLoops[]): string {
  const said = new Set(
    lines.map((line) => (line.presentRecorded ? (line.states[line.present]?.kind.id ?? "") : "specified")),
  );
  const [only] = said;
  return said.size === 1 && only !== undefined ? only : "mixed";
}

/** Kinds that may be tied: all that any line knows, by rising take-up of the first that knows it. */
export function kindsKnown(loops: readonly LineLoops[]): readonly LoopKind[] {
  const kinds = new Map(
    [...LOOP_KINDS, ...loops.flatMap(({ states }) => states.map(({ kind }) => kind))].map((kind) => [
      kind.id,
      kind,
    ]),
  );
  return [...kinds.values()];
}

/** Whether all, some or none of a row's lines may change. */
export function rowMayChange(
  loops: readonly LineLoops[],
  { mayChange }: Pick<LoopChoices, "mayChange">,
  row: Row,
): "all" | "some" | "none" {
  const lines = loops.filter((line) => line.row === row);
  const may = lines.filter(({ lineKey }) => mayChange.has(lineKey)).length;
  return may === 0 ? "none" : may === lines.length ? "all" : "some";
}

/** The lines that may change, some let in or kept out. */
export function mayChangeWith(
  { mayChange }: Pick<LoopChoices, "mayChange">,
  lineKeys: readonly string[],
  may: boolean,
): ReadonlySet<string> {
  const next = new Set(mayChange);
  for (const key of lineKeys) {
    if (may) next.add(key);
    else next.delete(key);
  }
  return next;
}
