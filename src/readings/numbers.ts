/**
 * A length as somebody typed it into a cell: decimal comma or point, grouped thousands, perhaps with its unit.
 */

export type Unit = "mm" | "cm" | "m" | "in";
/** An inch is 25.4 mm exactly (international yard and pound agreement of 1959). */
const PER_METRE: Readonly<Record<Unit, number>> = { mm: 1000, cm: 100, m: 1, in: 1000 / 25.4 };
/** The metric units, as readings are typed at the bench. */
export const UNITS: readonly Unit[] = ["mm", "cm", "m"];
/** Every unit a table may be in. */
export const TABLE_UNITS: readonly Unit[] = [...UNITS, "in"];
const INCHES: ReadonlySet<string> = new Set(["in", "inch", "inches", "zoll", "pouce", "pouces", '"']);

export type DecimalMark = "," | ".";

/** A value in metres; divided rather than multiplied, so that 742.1 cm and 7421 mm are the same number. */
export function inMetres(value: number, unit: Unit): number {
  return value / PER_METRE[unit];
}

/** One way to understand the digits. */
export interface NumberSense {
  readonly value: number;
  /** The decimal mark that this understanding implies; undefined where it implies none (`7421`, `7 421`). */
  readonly mark: DecimalMark | undefined;
}

/** A cell's number: one sense, or two where the digits alone can't tell (`7.421`). */
export interface CellNumber {
  readonly senses: readonly NumberSense[];
  readonly unit: Unit | undefined;
}

/**
 * Reads a number with an optional unit. Thousands may be grouped by spaces, apostrophes, points or commas, in
 * threes throughout. A single point or comma with one to three digits before and exactly three after (`7.421`)
 * may be a decimal mark or group thousands: both senses are given, and it's for the caller to decide or to
 * refuse.
 *
 * @returns undefined where the text is no such number.
 */
export function readCellNumber(text: string): CellNumber | undefined {
  // NFKC turns no-break and thin spaces into plain ones and full-width digits into plain ones.
  const match = /^([+-]?)(\d[\d.,'’ ]*?)(e[+-]?\d{1,2})?\s*(mm|cm|m|in|inch|inches|zoll|pouces?|")?$/iu.exec(
    text.normalize("NFKC").replace("\u2212", "-").replace(/″|''/gu, '"').trim(),
  );
  if (match === null) return undefined;
  const [, sign, digits = "", exponent, unit] = match;
  const senses = readDigits(digits, exponent !== undefined);
  if (senses.length === 0) return undefined;
  const scale = (sign === "-" ? -1 : 1) * (exponent === undefined ? 1 : Number(`1${exponent}`));
  return {
    senses: senses.map(({ value, mark }) => ({ value: value * scale, mark })),
    unit: unit === undefined ? undefined : readUnit(unit),
  };
}

/** A number that needs no reading: a spreadsheet's own. */
export function exactNumber(value: number): CellNumber {
  return { senses: [{ value, mark: undefined }], unit: undefined };
}

/** A unit's name as a heading or a cell gives it. */
export function readUnit(text: string): Unit | undefined {
  const name = text
    .normalize("NFKC")
    .trim()
    .toLowerCase()
    .replace(/^[[(]|[\])]$/gu, "");
  return UNITS.find((unit) => unit === name) ?? (INCHES.has(name) ? "in" : undefined);
}

function readDigits(digits: string, scientific: boolean): readonly NumberSense[] {
  const plain = /^\d+$/u.exec(digits);
  if (plain) return [{ value: Number(digits), mark: undefined }];

  const single = /^(\d+)([.,])(\d+)$/u.exec(digits);
  if (single) {
    const [, whole = "", mark = "", fraction = ""] = single;
    const asDecimal: NumberSense = {
      value: Number(`${whole}.${fraction}`),
      mark: mark as DecimalMark,
    };
    const mayGroup = !scientific && fraction.length === 3 && /^[1-9]\d{0,2}$/u.test(whole);
    return mayGroup
      ? [
          asDecimal,
          {
            value: Number(`${whole}${fraction}`),
            mark: mark === "," ? "." : ",",
          },
        ]
      : [asDecimal];
  }

  // Grouped in threes: one group sign throughout, which is not the decimal mark.
  const grouped = /^([1-9]\d{0,2})(?:([ '’.,])\d{3})(?:\2\d{3})*(?:([.,])(\d+))?$/u.exec(digits);
  if (grouped === null || scientific) return [];
  const [, , group = "", mark, fraction] = grouped;
  if (group === mark) return [];
  const whole =
    mark === undefined ? digits : digits.slice(0, digits.length - mark.length - (fraction?.length ?? 0));
  const implied: DecimalMark | undefined =
    (mark as DecimalMark | undefined) ?? (group === "." ? "," : group === "," ? "." : undefined);
  return [
    {
      value: Number(`${whole.replace(/\D/gu, "")}.${fraction ?? "0"}`),
      mark: implied,
    },
  ];
}
