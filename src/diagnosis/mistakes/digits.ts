/** What could have been meant by a number as it stands typed: every single slip of the keys or the ear, undone. */
import type { MistakeKind } from "./model.ts";
import { SLIP_SHARE } from "./plausible.ts";

export interface Meant {
  readonly kind: Extract<MistakeKind, "digit slip" | "digits transposed" | "keystroke" | "misheard">;
  /** The number that was meant [m]. */
  readonly valueM: number;
  /** Share of all slips with this number that turn it into the one typed. */
  readonly share: number;
  /** Numbers that differ only in what was lost: a missing digit's ten. Same for all of them. */
  readonly lost: number | undefined;
  /** Place value of the digit concerned [m]. */
  readonly placeM: number;
}

/** Digit slips by one are as common as all others together: a neighbouring key, a misread mark (assumed). */
const BY_ONE = 0.5;
/** An extra digit is most often a key hit twice (assumed). */
const DOUBLED = 0.7;
const MOST_DIGITS = 7;

/**
 * Everything a value may have been meant as, if one slip was made in its whole millimetres; fractions of a millimetre stay as
 * they are. Values of fewer than three or more than seven digits have none.
 */
export function meantInstead(readM: number): readonly Meant[] {
  const mm = readM * 1000;
  const whole = Math.floor(mm + 1e-6);
  const fraction = Math.round((mm - whole) * 1e4) / 1e4;
  const digits = String(whole);
  const count = digits.length;
  if (whole <= 0 || count < 3 || count > MOST_DIGITS) return [];
  const meant: Meant[] = [];
  const add = (kind: Meant["kind"], value: number, share: number, place: number, lost?: number): void => {
    // Nobody types a nought in front; only a digit too few or too many changes their number.
    const sameCount = kind === "keystroke" || String(value).length === count;
    if (value > 0 && value !== whole && sameCount)
      meant.push({ kind, valueM: (value + fraction) / 1000, share, lost, placeM: place / 1000 });
  };
  for (let at = 0; at < count; at++) {
    const place = 10 ** (count - 1 - at);
    const digit = Number(digits[at]);
    const perPlace = SLIP_SHARE.digit / count;
    // Off by one in a place, carried or not: the tape's mark was misread, or a neighbouring key hit.
    for (const by of [-1, 1]) add("digit slip", whole + by * place, (perPlace * BY_ONE) / 2, place);
    for (let other = 0; other <= 9; other++)
      if (Math.abs(other - digit) > 1)
        add("digit slip", whole + (other - digit) * place, (perPlace * (1 - BY_ONE)) / 8, place);
    // An extra digit: this one is left out.
    if (digits[at] !== digits[at + 1]) {
      const doubled = digits[at] === digits[at - 1];
      const share = (SLIP_SHARE.extra / (count - 1)) * (doubled ? DOUBLED : (1 - DOUBLED) / 10);
      add("keystroke", Number(digits.slice(0, at) + digits.slice(at + 1)), share, place);
    }
  }
  for (let at = 0; at + 1 < count; at++) {
    const place = 10 ** (count - 1 - at);
    const swapped = digits.slice(0, at) + digits[at + 1] + digits[at] + digits.slice(at + 2);
    add("digits transposed", Number(swapped), SLIP_SHARE.transposed / (count - 1), place);
    const jumped = digits.slice(0, at) + digits[at + 2] + digits[at + 1] + digits[at] + digits.slice(at + 3);
    if (at + 2 < count) add("digits transposed", Number(jumped), SLIP_SHARE.jump / (count - 2), place);
  }
  // Thirteen and thirty to nineteen and ninety: the last two digits of a pair as it is called.
  for (const at of new Set([0, count - 2])) {
    const [ten, one] = [digits[at] as string, digits[at + 1] as string];
    const heard = ten === "1" && one >= "3" ? `${one}0` : one === "0" && ten >= "3" ? `1${ten}` : undefined;
    if (heard !== undefined)
      add(
        "misheard",
        Number(digits.slice(0, at) + heard + digits.slice(at + 2)),
        SLIP_SHARE.misheard,
        10 ** (count - 1 - at),
      );
  }
  // A digit too few: any digit may have stood at any place.
  for (let at = 0; at <= count; at++) {
    const place = 10 ** (count - at);
    for (let lost = 0; lost <= 9; lost++) {
      // The same number comes of a doubled digit's either half: once is enough.
      if (at > 0 && String(lost) === digits[at - 1]) continue;
      const share = SLIP_SHARE.missing / (count + 1);
      add("keystroke", Number(digits.slice(0, at) + lost + digits.slice(at)), share, place, at);
    }
  }
  return meant;
}
