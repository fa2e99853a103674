/**
 * Texts in the person's language. What is spoken is set once for a page, a worker or a command, and holds until it is set
 * anew: a text belongs to where it is read, so the parts that find something out needn't hand a language through.
 */
import { IntlMessageFormat } from "intl-messageformat";
import { type Catalogue, ENGLISH, type Key, type Language, localeOf } from "./languages.ts";

/** The unit of short lengths on screens and in sentences. */
export type LengthUnit = "mm" | "in";

export interface Speech {
  readonly language: Language;
  /** BCP 47 tag whose number and date marks are used. */
  readonly locale: string;
  readonly unit: LengthUnit;
  readonly catalogue: Catalogue;
}

/** What goes into a message's places; figures come already written, counts as numbers. */
export type Values = Readonly<Record<string, string | number>>;

const AT_FIRST: Speech = { language: "en", locale: localeOf("en"), unit: "mm", catalogue: ENGLISH };

let present: Speech = AT_FIRST;
let formats = new Map<Key, IntlMessageFormat>();

/** Sets what is spoken from now on; what is left out is as at first (English, millimetres). */
export function speak(speech: Partial<Speech> = {}): void {
  present = { ...AT_FIRST, ...speech };
  formats = new Map();
}

export function speech(): Speech {
  return present;
}

function formatOf(key: Key): IntlMessageFormat {
  const known = formats.get(key);
  if (known !== undefined) return known;
  const made = new IntlMessageFormat(present.catalogue[key], present.locale, undefined, { ignoreTag: true });
  formats.set(key, made);
  return made;
}

/**
 * A text in the language set.
 * @param values for the places of the message, by name
 * @throws {Error} if a place of the message has no value
 */
export function say(key: Key, values?: Values): string {
  return String(formatOf(key).format(values));
}

/**
 * A text in which some places are filled with something other than text (an element of a screen), as its parts in order.
 * @throws {Error} if a place of the message has no value
 */
export function sayParts<T extends object>(
  key: Key,
  values: Readonly<Record<string, string | number | T>>,
): readonly (string | T)[] {
  const said = formatOf(key).format<T>({ ...values });
  return Array.isArray(said) ? said : [said];
}
