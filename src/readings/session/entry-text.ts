/** From what a hand, a number pad or a meter types to lengths: `7421`, `7,421`, `742.1 cm`, `D= 7.421 m`, `421`. */
import { inMetres, readCellNumber, UNITS } from "../numbers.ts";
import { isPlausible } from "../targets.ts";
import { cleanM } from "./fold.ts";
import type { Expected, Taken } from "./model.ts";
import { REPEATS_WITHIN_M } from "./settle.ts";

/** A length that a text may mean. */
export interface Candidate {
  readonly valueM: number;
  readonly taken: Taken | undefined;
}

export type Understood =
  /** One length, or repeats of one target [m]. */
  | { readonly kind: "lengths"; readonly valuesM: readonly number[]; readonly taken: Taken | undefined }
  /** Several lengths would be possible, or none fits: to be typed in full. */
  | { readonly kind: "unsure"; readonly candidates: readonly Candidate[] }
  | { readonly kind: "no length" };

/** The last three digits stand for a length this near to what is expected [m]; halfway between two it could be either. */
const SHORT_WITHIN_M = 0.15;
/** A longer text is no reading. */
const LONGEST = 500;
const NUMBER = /(?<![\p{L}\d])([+-]?\d+(?:[.,'’]\d+)*)[.,]?\s?(mm|cm|m)?(?![\p{L}\d.,])/giu;
const SPACED_NUMBER =
  /(?<![\p{L}\d])([+-]?\d{1,3}(?: \d{3})+(?:[.,]\d+)?)[.,]?\s?(mm|cm|m)?(?![\p{L}\d.,])/giu;

/**
 * Takes the lengths from a text, by what its target should read. A number without a unit is in millimetres if it is whole; with
 * decimals it is whichever of m, cm and mm fits. Of a line with several numbers those count that the target could read; where
 * all could, they are repeats. A number glued to letters (`A1`) is a name. Three digits alone, where they can't be the whole
 * length, are its last three if just one such length is near.
 *
 * @param expected undefined where nothing is known: then numbers are taken as they stand
 * @param zeroM what the instrument shows at zero length [m]
 */
export function understand(text: string, expected: Expected | undefined, zeroM = 0): Understood {
  const plain = cleaned(text);
  const whole = sensesOf(plain.replace(/(?<=\d)[.,]\s?(?=(?:mm|cm|m)?$)/iu, ""));
  if (whole.length > 0) {
    const fitting = whole.filter(fits(expected, zeroM));
    if (fitting.length > 0) return chosen(fitting, expected);
  }
  const lists = [NUMBER, SPACED_NUMBER].map((pattern) =>
    [...plain.matchAll(pattern)].map(([found]) => ({ text: found.trim(), senses: sensesOf(found.trim()) })),
  );
  for (const tokens of lists) {
    const taken = severalNumbers(tokens, expected, zeroM);
    if (taken) return taken;
  }
  const [tokens = []] = lists;
  const short = shortForms(tokens, expected);
  if (short) return short;
  const [first] = whole.length > 0 ? [whole] : tokens.length === 1 ? [tokens[0]?.senses ?? []] : [];
  if (first === undefined) {
    const candidates = tokens.flatMap(({ senses }) => senses.slice(0, 1)).filter(({ valueM }) => valueM > 0);
    return candidates.length === 0 ? { kind: "no length" } : { kind: "unsure", candidates };
  }
  const [literal] = first;
  return literal !== undefined && literal.valueM > 0
    ? { kind: "lengths", valuesM: [literal.valueM], taken: undefined }
    : { kind: "no length" };
}

function cleaned(text: string): string {
  return (
    text
      .slice(0, LONGEST)
      .normalize("NFKC")
      .replace(/[\p{Cc}\p{Cf}\s]+/gu, " ")
      .replace(/\u2212/gu, "-")
      // Two whole numbers with a comma between are two readings: nobody reads a tenth of a micrometre.
      .replace(/(?<!\d)(\d{4,})[,;](?=\d{4,}(?!\d))/gu, "$1 ")
      .trim()
  );
}

/** Lengths that a single number may mean, the plainest first. */
function sensesOf(text: string): readonly Candidate[] {
  const number = readCellNumber(text.replace(/(?<=\d)[.,](?=\s?(?:mm|cm|m)?$)/iu, ""));
  if (number === undefined) return [];
  const { unit } = number;
  if (unit !== undefined)
    return number.senses.map(({ value }) => ({ valueM: cleanM(inMetres(value, unit)), taken: undefined }));
  return number.senses.flatMap(({ value }): Candidate[] => {
    if (Number.isInteger(value)) return [{ valueM: cleanM(inMetres(value, "mm")), taken: undefined }];
    return [...UNITS].reverse().map((each) => {
      const valueM = cleanM(inMetres(value, each));
      // Metres with three decimals are millimetres plainly; a coarser figure is a guess at the unit.
      const plainly = each === "mm" || (each === "m" && /[.,]\d{3,}$/u.test(text));
      return { valueM, taken: plainly ? undefined : each === "m" ? "metres" : "centimetres" };
    });
  });
}

function fits(expected: Expected | undefined, zeroM: number): (candidate: Candidate) => boolean {
  return ({ valueM }) =>
    valueM > 0 && (expected === undefined || isPlausible(valueM, expected.valueM, zeroM));
}

/** One of what fits: the only one, or the only one in the expected range. */
function chosen(fitting: readonly Candidate[], expected: Expected | undefined): Understood {
  const different = [...new Map(fitting.map((one) => [one.valueM, one])).values()];
  const [first] = different;
  if (first === undefined) return { kind: "no length" };
  if (expected === undefined || different.length === 1)
    return { kind: "lengths", valuesM: [first.valueM], taken: first.taken };
  const near = different.filter((one) => isWithin(one.valueM, expected));
  const [only] = near;
  return near.length === 1 && only !== undefined
    ? { kind: "lengths", valuesM: [only.valueM], taken: only.taken }
    : { kind: "unsure", candidates: different };
}

interface Token {
  readonly text: string;
  readonly senses: readonly Candidate[];
}

/** Those numbers of a line that the target could read; undefined where none could, or where there is but one number. */
function severalNumbers(
  tokens: readonly Token[],
  expected: Expected | undefined,
  zeroM: number,
): Understood | undefined {
  const known = tokens.flatMap(({ senses }) => {
    const fitting = senses.filter(fits(expected, zeroM));
    return fitting.length === 0 ? [] : [chosen(fitting, expected)];
  });
  if (known.length === 0) return undefined;
  if (expected === undefined && tokens.length > 1) {
    const candidates = tokens.flatMap(({ senses }) => senses.slice(0, 1));
    return { kind: "unsure", candidates };
  }
  const values: number[] = [];
  let taken: Taken | undefined;
  for (const one of known) {
    if (one.kind !== "lengths") return one;
    values.push(...one.valuesM);
    taken ??= one.taken;
  }
  if (known.length < tokens.length) {
    if (Math.max(...values) - Math.min(...values) > REPEATS_WITHIN_M)
      return { kind: "unsure", candidates: values.map((valueM) => ({ valueM, taken: undefined })) };
    taken = "one of several numbers";
  }
  return { kind: "lengths", valuesM: values, taken };
}

/** Three digits each, taken as the last three of a length near the expected one. */
function shortForms(tokens: readonly Token[], expected: Expected | undefined): Understood | undefined {
  if (expected === undefined || tokens.length === 0 || tokens.some(({ text }) => !/^\d{3}$/u.test(text)))
    return undefined;
  const values: number[] = [];
  for (const { text } of tokens) {
    const rest = Number(text) / 1000;
    const around = [-1, 0, 1]
      .map((by) => cleanM(Math.round(expected.valueM - rest) + by + rest))
      .filter((valueM) => valueM >= 1)
      .sort((one, other) => Math.abs(one - expected.valueM) - Math.abs(other - expected.valueM));
    const [nearest] = around;
    if (nearest === undefined) return undefined;
    const candidates = around
      .slice(0, 2)
      .map((valueM): Candidate => ({ valueM, taken: "last three digits" }));
    if (Math.abs(nearest - expected.valueM) > SHORT_WITHIN_M) return { kind: "unsure", candidates };
    if (!isWithin(nearest, expected)) {
      // A key that failed explains the three digits as well: don't choose.
      const lost = withLostDigit(text).filter((valueM) => isWithin(valueM, expected));
      if (lost.length > 0)
        return {
          kind: "unsure",
          candidates: [
            { valueM: nearest, taken: "last three digits" },
            ...lost.slice(0, 1).map((valueM) => ({ valueM, taken: undefined })),
          ],
        };
    }
    values.push(nearest);
  }
  return { kind: "lengths", valuesM: values, taken: "last three digits" };
}

function withLostDigit(text: string): readonly number[] {
  const found = new Set<number>();
  for (let at = 0; at <= text.length; at++)
    for (let digit = 0; digit <= 9; digit++)
      found.add(Number(text.slice(0, at) + digit + text.slice(at)) / 1000);
  return [...found];
}

function isWithin(valueM: number, { lowM, highM }: Expected): boolean {
  return valueM >= lowM - 1e-9 && valueM <= highM + 1e-9;
}
