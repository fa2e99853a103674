/** The loop book's entries one by one: each placed on the wing, or undefined with a warning that says why not. */

import type * as z from "zod";
import { trimmedMm } from "../diagnosis/wording.ts";
import { type Line, type Problem, type Row, SIDES } from "../plan/index.ts";
import { matchName } from "../readings/names.ts";
import { warning } from "../readings/problems.ts";
import { say } from "../words/index.ts";
import type { MaillonRecord, Replacement } from "./book.ts";
import { complain, kindOf, lineOf, metres, type Reading, shapedAs, shortList } from "./book-reading.ts";
import {
  type benchTakeUpSchema,
  choiceLineSchema,
  choicesFrameSchema,
  type maillonSchema,
  type presentSchema,
  type replacementSchema,
} from "./book-schema.ts";
import { isGiven, kindName, PLAIN, specifiedKind } from "./kinds.ts";
import type { BenchTakeUp, LoopChoices, LoopKind } from "./model.ts";

/** A present loop on its line, with its place in the file. */
export interface PresentLoop {
  readonly key: string;
  readonly line: Line;
  readonly where: string;
  readonly kind: LoopKind;
  readonly takeUpM: number | undefined;
}

/** Places entries of `present`: on a line at a maillon, once for each; a plain eye without take-up. */
export function presentOf(reading: Reading) {
  const seen = new Set<string>();
  return (entry: z.output<typeof presentSchema>, where: string): PresentLoop | undefined => {
    const line = lineOf(reading, entry.line, entry.side, `${where}.line`, true);
    if (line === undefined) return undefined;
    const kind = kindOf(entry.loop);
    if (kind.id === PLAIN.id && (entry.takeUpMm ?? 0) !== 0)
      return complain(
        reading,
        `${where}.takeUpMm`,
        line.id,
        say("workshop.book.plain", { found: trimmedMm((entry.takeUpMm ?? 0) / 1000, 3) }),
        say("workshop.book.plain.fix"),
      );
    if (seen.has(line.key))
      return complain(
        reading,
        where,
        line.id,
        say("workshop.book.present.again", { line: line.id, side: line.side }),
        say("workshop.book.present.again.fix"),
      );
    seen.add(line.key);
    return { key: line.key, line, where, kind, takeUpM: metres(entry.takeUpMm) };
  };
}

/** Present loops that are recorded, but whose take-up nothing tells: the plan's loop is reckoned with instead. */
export function withoutTakeUp(
  present: readonly PresentLoop[],
  bench: readonly BenchTakeUp[],
): readonly Problem[] {
  return present.flatMap(({ line, where, kind, takeUpM }) => {
    const known =
      !isGiven(kind) ||
      takeUpM !== undefined ||
      specifiedKind(line.loopName, line.loopTakeUpM).id === kind.id ||
      bench.some((reading) => reading.kindId === kind.id);
    if (known) return [];
    const message = say("workshop.book.take-up.unknown", { loop: kindName(kind), line: line.id });
    return [warning(`${where}.loop`, line.id, message, say("workshop.book.take-up.unknown.fix"))];
  });
}

/** Places entries of `benchTakeUps`; a plain eye has none. */
export function benchOf(reading: Reading) {
  return (entry: z.output<typeof benchTakeUpSchema>, where: string): BenchTakeUp | undefined => {
    const kind = kindOf(entry.loop);
    if (kind.id === PLAIN.id)
      return complain(
        reading,
        `${where}.loop`,
        undefined,
        say("workshop.book.bench.plain"),
        say("workshop.book.bench.plain.fix"),
      );
    return {
      kindId: kind.id,
      barDiameterM: entry.barDiameterMm / 1000,
      lineDiameterM: entry.lineDiameterMm / 1000,
      takeUpM: entry.takeUpMm / 1000,
      standardUncertaintyM: metres(entry.standardUncertaintyMm),
      date: entry.date,
      note: entry.note,
    };
  };
}

/** The choices, with lines that the wing lacks set apart; all of them apart where they can't be read. */
export function choicesOf(
  reading: Reading,
  given: unknown,
): { value: LoopChoices | undefined; unplaced: unknown; unplacedLines: readonly unknown[] } {
  const file = given === undefined ? undefined : shapedAs(reading, ["choices"], given, choicesFrameSchema);
  if (file === undefined) return { value: undefined, unplaced: given, unplacedLines: [] };
  const rows = new Set<Row>(file.rows);
  const mayChange = new Set(
    reading.wing.lines
      .filter((line) => line.hangsOn.kind === "maillon" && rows.has(line.row))
      .map((line) => line.key),
  );
  const unplacedLines: unknown[] = [];
  for (const [index, entry] of (file.lines ?? []).entries()) {
    const shaped = shapedAs(reading, ["choices", "lines", index], entry, choiceLineSchema);
    const lines = shaped === undefined ? [] : choiceLines(reading, shaped, `choices.lines[${index}].line`);
    for (const line of lines) mayChange.add(line.key);
    if (lines.length === 0) unplacedLines.push(entry);
  }
  const value: LoopChoices = {
    mayChange,
    kinds: new Set(file.kinds.map((name) => kindOf(name).id)),
    mostTakeUpM: metres(file.mostTakeUpMm),
    reserveM: file.reserveMm / 1000,
    symmetry: file.symmetry,
    rowsTogether: file.rowsTogether,
    aim: file.aim,
    uniformFree: file.uniformFree,
    worthM: file.worthMm / 1000,
    mostChanges: file.mostChanges,
    rowWeights: { ...file.rowWeights } as LoopChoices["rowWeights"],
  };
  return { value, unplaced: undefined, unplacedLines };
}

/** The lines that one entry of the choices means; without a side, those of the sides that have one of that name. */
function choiceLines(
  reading: Reading,
  entry: z.output<typeof choiceLineSchema>,
  where: string,
): readonly Line[] {
  const named = SIDES.filter((side) => matchName(reading.lookup, "line", side, entry.line).found === "one");
  const sides = entry.side !== undefined ? [entry.side] : named.length > 0 ? named : SIDES.slice(0, 1);
  return sides.flatMap((side) => lineOf(reading, entry.line, side, where, true) ?? []);
}

/** Places entries of `maillons`: a loop for each line, each line once, ticks only on lines of the order. */
export function maillonOf(reading: Reading) {
  return (entry: z.output<typeof maillonSchema>, where: string): MaillonRecord | undefined => {
    const { maillon, side, order, loops, recorded, closed = [] } = entry;
    if (!reading.wing.maillons.some((one) => one.id === maillon))
      return complain(
        reading,
        `${where}.maillon`,
        maillon,
        say("workshop.book.maillon.unknown", {
          name: maillon,
          maillons: shortList(reading.wing.maillons.map((one) => one.id)),
        }),
        say("workshop.book.maillon.unknown.fix"),
      );
    if (loops.length !== order.length)
      return complain(
        reading,
        `${where}.loops`,
        maillon,
        say("workshop.book.maillon.loops", { loops: loops.length, lines: order.length }),
        say("workshop.book.maillon.loops.fix"),
      );
    const lines = order.map((name, index) => lineOf(reading, name, side, `${where}.order[${index}]`, true));
    const ticked = closed.map((name, index) =>
      lineOf(reading, name, side, `${where}.closed[${index}]`, true),
    );
    const known = (line: Line | undefined): line is Line => line !== undefined;
    if (!lines.every(known) || !ticked.every(known)) return undefined;
    const twice = lines.find((line, index) => lines.indexOf(line) < index);
    if (twice !== undefined)
      return complain(
        reading,
        `${where}.order`,
        twice.id,
        say("workshop.book.maillon.twice", { line: twice.id }),
        say("workshop.book.maillon.twice.fix"),
      );
    const stray = ticked.find((line) => !lines.includes(line));
    if (stray !== undefined)
      return complain(
        reading,
        `${where}.closed`,
        stray.id,
        say("workshop.book.maillon.stray", { line: stray.id }),
        say("workshop.book.maillon.stray.fix"),
      );
    return {
      maillonId: maillon,
      side,
      order: lines.map((line) => line.key),
      loops: loops.map((name) => kindOf(name).id),
      recorded,
      closed: ticked.map((line) => line.key),
    };
  };
}

/** Places entries of `replacements`: a line of any tier that every side named has. */
export function replacementOf(reading: Reading) {
  return (entry: z.output<typeof replacementSchema>, where: string): Replacement | undefined => {
    const sides = [...new Set(entry.sides)];
    const lines = sides.map((side) => lineOf(reading, entry.line, side, `${where}.line`));
    const [line] = lines;
    if (line === undefined || lines.includes(undefined)) return undefined;
    return {
      lineId: line.id,
      sides,
      date: entry.date,
      oldM: metres(entry.oldMm),
      newM: metres(entry.newMm),
      tensionN: entry.tensionN,
      loopKindId: entry.loop === undefined ? undefined : kindOf(entry.loop).id,
      note: entry.note,
    };
  };
}
