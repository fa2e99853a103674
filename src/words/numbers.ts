/** Numbers and lengths in the locale and unit that are set: metres in, the person's unit out. Minus is U+2212. */
import { say, speech } from "./say.ts";

const MINUS = "−";
const MM_PER_M = 1000;
/** An inch is 25.4 mm exactly. */
const IN_PER_M = 1000 / 25.4;
/** A millimetre is four hundredths of an inch: two more decimals show as much. */
const MORE_DECIMALS_IN = 2;

const formatters = new Map<string, Intl.NumberFormat>();

function formatter(decimals: number): Intl.NumberFormat {
  const { locale } = speech();
  const key = `${locale} ${decimals}`;
  const known = formatters.get(key);
  if (known !== undefined) return known;
  const made = new Intl.NumberFormat(locale, {
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals,
    useGrouping: false,
  });
  formatters.set(key, made);
  return made;
}

/** Rounds as `toFixed` does, so that a figure is the same in every language. */
function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}

/** A number with fixed decimals; what rounds to zero carries no sign. */
export function fixed(value: number, decimals: number): string {
  const shown = rounded(value, decimals);
  return `${shown < 0 ? MINUS : ""}${formatter(decimals).format(Math.abs(shown))}`;
}

/** The same with its sign, plus or minus; what rounds to zero carries none. */
export function signedFixed(value: number, decimals: number): string {
  const shown = rounded(value, decimals);
  const size = formatter(decimals).format(Math.abs(shown));
  if (shown === 0) return size;
  return `${shown < 0 ? MINUS : "+"}${size}`;
}

/** The mark before decimals: "." or ",". */
export function decimalMark(): string {
  return formatter(1).format(0.5).replace(/\d/g, "");
}

/** Multiplies metres into the unit that is set. */
export function perMetre(): number {
  return speech().unit === "in" ? IN_PER_M : MM_PER_M;
}

/** How many decimals show as much as `decimals` do in millimetres. */
export function lengthDecimals(decimals: number): number {
  return speech().unit === "in" ? decimals + MORE_DECIMALS_IN : decimals;
}

/** A figure in the unit that is set, as a number (for fields, axes and sliders) [m → mm or in]. */
export function inUnit(valueM: number): number {
  return valueM * perMetre();
}

/** And back [mm or in → m]. */
export function fromUnit(value: number): number {
  return value / perMetre();
}

/** "mm" or "in". */
export function lengthUnitName(): string {
  return say(speech().unit === "in" ? "units.in" : "units.mm");
}

/** A length [m] without its unit. @param decimals as in millimetres */
export function lengthNumber(valueM: number, decimals = 0): string {
  return fixed(inUnit(valueM), lengthDecimals(decimals));
}

/** A length [m] without its unit, signed. @param decimals as in millimetres */
export function signedLengthNumber(valueM: number, decimals = 0): string {
  return signedFixed(inUnit(valueM), lengthDecimals(decimals));
}

/** "12 mm". @param space between number and unit */
export function length(valueM: number, decimals = 0, space = " "): string {
  return `${lengthNumber(valueM, decimals)}${space}${lengthUnitName()}`;
}

/** "−12 mm", "+3 mm", "0 mm". @param space between number and unit */
export function signedLength(valueM: number, decimals = 0, space = " "): string {
  return `${signedLengthNumber(valueM, decimals)}${space}${lengthUnitName()}`;
}

/** A number with as many decimals as it needs, at most so many. */
export function trimmed(value: number, most: number): string {
  let decimals = most;
  while (decimals > 0 && value.toFixed(decimals).endsWith("0")) decimals -= 1;
  return fixed(value, decimals);
}

/** A length [m] without its unit and without idle zeros: "10", "4.5". @param most decimals at most, as in millimetres */
export function trimmedLengthNumber(valueM: number, most = 1): string {
  return trimmed(inUnit(valueM), lengthDecimals(most));
}

/** The same with its unit: "10 mm", "4.5 mm". */
export function trimmedLength(valueM: number, most = 1): string {
  return `${trimmedLengthNumber(valueM, most)} ${lengthUnitName()}`;
}

/** A length [m] as people read and type it: to the millimetre, to a tenth of it where it has one, or as fine in inches. */
export function typedLength(valueM: number): string {
  const tenths = Number((valueM * MM_PER_M).toFixed(1));
  return length(tenths / MM_PER_M, Number.isInteger(tenths) ? 0 : 1);
}

/** An ISO date (its first ten characters) written out: "14 March 2026"; what isn't one stays as it is. */
export function longDate(iso: string): string {
  const parts = /^(\d{4})-(\d{2})-(\d{2})/.exec(iso);
  if (parts === null) return iso;
  const day = new Date(Date.UTC(Number(parts[1]), Number(parts[2]) - 1, Number(parts[3])));
  // A month or day that there isn't would run over into the next.
  return Number.isNaN(day.getTime()) || !day.toISOString().startsWith(parts[0])
    ? iso
    : new Intl.DateTimeFormat(speech().locale, {
        day: "numeric",
        month: "long",
        year: "numeric",
        timeZone: "UTC",
      }).format(day);
}

/** Names in a row: "A, B and C". @param joiner "and" or "or" */
export function listed(names: readonly string[], joiner: "and" | "or" = "and"): string {
  const type = joiner === "and" ? "conjunction" : "disjunction";
  return new Intl.ListFormat(speech().locale, { style: "long", type }).format(names);
}
