/** Writes a loop book as its file: what `parseBook` reads back as it was. */
import type { Side } from "../plan/model.ts";
import type { LoopBook } from "./book.ts";
import { BOOK_FORMAT, type ChoicesFile, type LoopBookFile } from "./book-schema.ts";
import { fileNameOf } from "./kinds.ts";
import type { LoopChoices } from "./model.ts";

/** A file's number for a length: the shortest decimal that is read back to the very same value, 13 for 0.013 m. */
function millimetres(lengthM: number): number {
  const exact = lengthM * 1000;
  const short = Number(exact.toPrecision(12));
  return short / 1000 === lengthM ? short : exact;
}

type Given<T> = { [K in keyof T]: Exclude<T[K], undefined> };

/** A value without its undefined fields. */
function given<T extends object>(fields: T): Given<T> {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as Given<T>;
}

const optionalMm = (lengthM: number | undefined): number | undefined =>
  lengthM === undefined ? undefined : millimetres(lengthM);

/** A line key's parts: `left:A1`. */
function partsOf(lineKey: string): { readonly side: Side; readonly line: string } {
  const colon = lineKey.indexOf(":");
  return { side: lineKey.slice(0, colon) as Side, line: lineKey.slice(colon + 1) };
}

const lineOf = (lineKey: string): string => partsOf(lineKey).line;

/** The lines that may change: without a side where both sides' may. */
function choiceLines(mayChange: ReadonlySet<string>): NonNullable<ChoicesFile["lines"]> {
  const sidesOf = new Map<string, Side[]>();
  for (const key of mayChange) {
    const { side, line } = partsOf(key);
    sidesOf.set(line, [...(sidesOf.get(line) ?? []), side]);
  }
  return [...sidesOf].flatMap(([line, sides]) =>
    sides.length === 2 ? [{ line }] : sides.map((side) => ({ line, side })),
  );
}

function choicesFile(choices: LoopChoices, unplacedLines: readonly unknown[]): ChoicesFile {
  const weights = given(choices.rowWeights);
  return given({
    lines: [...choiceLines(choices.mayChange), ...unplacedLines] as ChoicesFile["lines"],
    kinds: [...choices.kinds].map(fileNameOf),
    mostTakeUpMm: optionalMm(choices.mostTakeUpM),
    reserveMm: millimetres(choices.reserveM),
    symmetry: choices.symmetry,
    rowsTogether: choices.rowsTogether,
    aim: choices.aim,
    uniformFree: choices.uniformFree,
    worthMm: millimetres(choices.worthM),
    mostChanges: choices.mostChanges,
    rowWeights: Object.keys(weights).length === 0 ? undefined : weights,
  }) as ChoicesFile;
}

/**
 * A loop book in its file's shape; lists that are empty are left out. Entries that couldn't be placed stand behind
 * the others as they were, so that nothing is lost (the file then fits its schema no better than before). Lines
 * that may change are written one by one, rows among them too.
 */
export function bookFile(book: LoopBook): LoopBookFile {
  const { unplaced } = book;
  const list = <T>(entries: readonly T[], rest: readonly unknown[]): T[] | undefined =>
    entries.length + rest.length === 0 ? undefined : ([...entries, ...rest] as T[]);
  return given({
    format: BOOK_FORMAT,
    version: 1,
    wing: book.wingName,
    present: list(
      [...book.present].map(([key, kindId]) => {
        const { side, line } = partsOf(key);
        return given({
          line,
          side,
          loop: fileNameOf(kindId),
          takeUpMm: optionalMm(book.presentTakeUpM.get(key)),
        });
      }),
      unplaced.present,
    ),
    benchTakeUps: list(
      book.bench.map((reading) =>
        given({
          loop: fileNameOf(reading.kindId),
          barDiameterMm: millimetres(reading.barDiameterM),
          lineDiameterMm: millimetres(reading.lineDiameterM),
          takeUpMm: millimetres(reading.takeUpM),
          standardUncertaintyMm: optionalMm(reading.standardUncertaintyM),
          date: reading.date,
          note: reading.note,
        }),
      ),
      unplaced.benchTakeUps,
    ),
    choices:
      book.choices === undefined
        ? (unplaced.choices as ChoicesFile | undefined)
        : choicesFile(book.choices, unplaced.choiceLines),
    maillons: list(
      book.maillons.map((card) =>
        given({
          maillon: card.maillonId,
          side: card.side,
          order: card.order.map(lineOf),
          loops: card.loops.map(fileNameOf),
          recorded: card.recorded,
          closed: card.closed.length === 0 ? undefined : card.closed.map(lineOf),
        }),
      ),
      unplaced.maillons,
    ),
    replacements: list(
      book.replacements.map((swap) =>
        given({
          line: swap.lineId,
          sides: [...swap.sides],
          date: swap.date,
          oldMm: optionalMm(swap.oldM),
          newMm: optionalMm(swap.newM),
          tensionN: swap.tensionN,
          loop: swap.loopKindId === undefined ? undefined : fileNameOf(swap.loopKindId),
          note: swap.note,
        }),
      ),
      unplaced.replacements,
    ),
  }) as LoopBookFile;
}

/** A loop book's file as text: JSON with two spaces of indent and a line break at the end. */
export function writeBook(book: LoopBook): string {
  return `${JSON.stringify(bookFile(book), null, 2)}\n`;
}
