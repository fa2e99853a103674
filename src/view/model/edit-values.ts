/** Text of a cell ↔ value in the plan file. What can't be read as a value stays the text that was typed. */
import { readCellNumber } from "../../readings/numbers.ts";
import { decimalMark, fromUnit, inUnit, type Key, lengthDecimals, say } from "../../words/index.ts";

/** `length`: millimetres in the file, the unit that is set on the screen. `number`: any other number, as it is in the file. */
export type ValueKind = "text" | "length" | "number";

/** Values that the file writes in English words, and what they are called on the screen. */
export type Vocabulary = Readonly<Record<string, Key>>;

const MM_PER_M = 1000;
const FINEST_DECIMALS = 3;

/** A number without needless zeros, with the decimal mark that is set. */
function plain(value: number, decimals: number): string {
  return String(Number(value.toFixed(decimals))).replace(".", decimalMark());
}

/** What a cell shows of a value of the file; empty where there is none. */
export function textOf(value: unknown, kind: ValueKind, vocabulary?: Vocabulary): string {
  if (value === undefined || value === null) return "";
  if (typeof value === "number") {
    if (kind === "length")
      return plain(inUnit(value / MM_PER_M), Math.min(FINEST_DECIMALS, lengthDecimals(1) + 1));
    return String(Number(value.toPrecision(12))).replace(".", decimalMark());
  }
  if (typeof value === "string") {
    const key = vocabulary?.[value];
    return key === undefined ? value : say(key);
  }
  return JSON.stringify(value);
}

/** The number that a text is: where digits alone leave two senses (`7.421`), the one with the decimal mark that is set. */
function numberIn(text: string, kind: ValueKind): number | undefined {
  // "4612," is a number whose decimals are yet to come.
  const read = readCellNumber(text.replace(/[.,]$/u, ""));
  if (read === undefined) return undefined;
  const { senses, unit } = read;
  const sense = senses.find(({ mark }) => mark === undefined || mark === decimalMark()) ?? senses[0];
  if (sense === undefined) return undefined;
  if (kind !== "length") return unit === undefined ? sense.value : undefined;
  const metres =
    unit === undefined
      ? fromUnit(sense.value)
      : sense.value / { mm: MM_PER_M, cm: 100, m: 1, in: MM_PER_M / 25.4 }[unit];
  return Number((metres * MM_PER_M).toFixed(FINEST_DECIMALS));
}

/** The value that a text stands for; undefined for an empty one, the text itself where it is none of the kind. */
export function readValue(text: string, kind: ValueKind, vocabulary?: Vocabulary): unknown {
  const trimmed = text.trim();
  if (trimmed === "") return undefined;
  if (kind !== "text") return numberIn(trimmed, kind) ?? trimmed;
  if (vocabulary === undefined) return trimmed;
  const lower = trimmed.toLocaleLowerCase();
  const known = Object.entries(vocabulary).find(
    ([value, key]) => value.toLowerCase() === lower || say(key).toLocaleLowerCase() === lower,
  );
  return known?.[0] ?? trimmed;
}
