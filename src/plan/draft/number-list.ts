/** Lists of numbers as a person types them from a table: blanks between, `-` for none, `3x27` for the same three times. */
import { say } from "../../words/index.ts";
import type { Fault } from "./notation.ts";

export interface ListedNumber {
  /** undefined where the list says that there is none. */
  readonly value: number | undefined;
  /** Place in the text, counted from 0. */
  readonly at: number;
}

/** Longest list that isn't a slip of the finger. */
const MOST = 400;

/**
 * The numbers of a list. Between two numbers stands a blank, a semicolon or a comma; a comma with one or two digits behind it
 * is a decimal mark (`7421,5`). With `ranges`, `2-26` counts by one and `2-26/2` by two. Never throws.
 */
export function parseNumberList(
  text: string,
  { ranges = false }: { readonly ranges?: boolean } = {},
): { readonly numbers: readonly ListedNumber[]; readonly faults: readonly Fault[] } {
  const numbers: ListedNumber[] = [];
  const faults: Fault[] = [];
  const words = text.matchAll(ranges ? /[^\s,;]+/gu : /(?:\d,\d{1,2}(?=$|[\s;])|[^\s,;])+/gu);
  for (const word of words) {
    const at = word.index;
    const plain = word[0].replace("−", "-").replace("–", "-").replace(",", ".");
    const repeated = /^(\d+)[x×](.+)$/iu.exec(plain);
    const times = repeated === null ? 1 : Number(repeated[1]);
    const one = repeated?.[2] ?? plain;
    const span = ranges ? /^(\d+)-(\d+)(?:\/(\d+))?$/u.exec(one) : null;
    let values: (number | undefined)[] = [];
    if (span !== null) {
      const [from, to, step] = [Number(span[1]), Number(span[2]), Number(span[3] ?? 1)];
      const many = step > 0 ? Math.floor(Math.abs(to - from) / step) + 1 : 0;
      if (many > 0 && many <= MOST)
        values = Array.from({ length: many }, (_, i) => from + Math.sign(to - from) * step * i);
    } else if (/^[-?]$/u.test(one)) values = [undefined];
    else if (/^\d+(\.\d+)?(mm)?$/u.test(one)) values = [Number.parseFloat(one)];
    if (values.length === 0 || times < 1 || numbers.length + times * values.length > MOST) {
      faults.push({
        at,
        message: say("draft.number", { found: word[0], ranges: ranges ? "yes" : "no" }),
        remedy: say("draft.correct-or-remove"),
      });
      // The place is kept, so that the numbers behind it stay where they belong.
      values = [undefined];
    }
    for (let i = 0; i < (values[0] === undefined && times > MOST ? 1 : Math.max(1, times)); i++)
      for (const value of values) numbers.push({ value, at });
  }
  return { numbers, faults };
}

/** A list with runs of the same number written once: `3x27 28`. */
export function writeNumberList(values: readonly (number | undefined)[]): string {
  const words: string[] = [];
  for (let i = 0; i < values.length; ) {
    let end = i + 1;
    while (end < values.length && values[end] === values[i]) end++;
    const word = values[i] === undefined ? "-" : String(values[i]);
    words.push(...(end - i > 1 ? [`${end - i}x${word}`] : [word]));
    i = end;
  }
  return words.join(" ");
}

/** Ribs as ranges where three or more follow each other evenly: `2-26/2`, `8-18,20`. */
export function writeRibList(ribs: readonly number[]): string {
  const words: string[] = [];
  for (let i = 0; i < ribs.length; ) {
    const first = ribs[i] as number;
    const step = (ribs[i + 1] ?? first) - first;
    let end = i + 1;
    while (end < ribs.length && (ribs[end] as number) - (ribs[end - 1] as number) === step) end++;
    const many = end - i;
    if (step === 0 && many > 1) words.push(`${many}x${first}`);
    else if (step > 0 && many > 2) words.push(`${first}-${ribs[end - 1]}${step === 1 ? "" : `/${step}`}`);
    else {
      words.push(String(first));
      end = i + 1;
    }
    i = end;
  }
  return words.join(",");
}
