/** Texts, numbers and units in the person's language. */
export {
  type Catalogue,
  catalogueOf,
  ENGLISH,
  type Key,
  LANGUAGE_NAMES,
  LANGUAGES,
  type Language,
  languageFor,
  localeOf,
} from "./languages.ts";
export {
  decimalMark,
  fixed,
  fromUnit,
  inUnit,
  length,
  lengthDecimals,
  lengthNumber,
  lengthUnitName,
  listed,
  longDate,
  perMetre,
  signedFixed,
  signedLength,
  signedLengthNumber,
  trimmed,
  trimmedLength,
  trimmedLengthNumber,
  typedLength,
} from "./numbers.ts";
export { type LengthUnit, type Speech, say, sayParts, speak, speech, type Values } from "./say.ts";
