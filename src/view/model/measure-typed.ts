/** What keys mean while a session is on the screen, and numbers in inches on their way to the session, which knows metric ones. */
import type { Expected } from "../../readings/session/index.ts";
import type { LengthUnit } from "../../words/index.ts";

export type Command = "skip" | "undo" | "repeat" | "note" | "go to" | "keep" | "map";

/** The same in every language; they stand on the buttons. */
export const COMMAND_KEYS: Readonly<Record<Command, string>> = {
  skip: "s",
  undo: "u",
  repeat: "r",
  note: "n",
  "go to": "g",
  keep: "k",
  map: "o",
};

export type Meaning =
  | { readonly do: "type"; readonly text: string }
  | { readonly do: "erase" | "submit" | "clear" | "undo" }
  /** A command, unless another key follows at once: then a meter is typing its words, see {@link METER_GAP_MS}. */
  | { readonly do: "command"; readonly command: Command; readonly text: string }
  | { readonly do: "leave" };

export interface Pressed {
  readonly key: string;
  readonly ctrl: boolean;
  readonly alt: boolean;
}

/** Nobody types two keys within this; a meter that types does [ms]. */
export const METER_GAP_MS = 60;

/**
 * @param field what stands in the entry field
 * @param sinceMs time since the key before
 * @param onControl whether a button or the like has the focus, for which Enter and Space are meant when nothing is typed
 */
export function meaningOf(pressed: Pressed, field: string, sinceMs: number, onControl: boolean): Meaning {
  const { key, ctrl, alt } = pressed;
  const isTyped = field !== "";
  if (ctrl && !alt) return key.toLowerCase() === "z" && !isTyped ? { do: "undo" } : { do: "leave" };
  if (alt && !ctrl) return { do: "leave" };
  if (key === "Enter") return isTyped ? { do: "submit" } : { do: "leave" };
  // Some meters end with a tabulator.
  if (key === "Tab") return isTyped && sinceMs < METER_GAP_MS ? { do: "submit" } : { do: "leave" };
  if (key === "Backspace") return isTyped ? { do: "erase" } : { do: "leave" };
  if (key === "Escape") return isTyped ? { do: "clear" } : { do: "leave" };
  if ([...key].length !== 1) return { do: "leave" };
  if (isTyped) return { do: "type", text: key };
  if (key === " ") return { do: "leave" };
  if (key === "?" && sinceMs >= METER_GAP_MS) return { do: "leave" };
  const command = (Object.keys(COMMAND_KEYS) as Command[]).find(
    (name) => COMMAND_KEYS[name] === key.toLowerCase(),
  );
  if (command !== undefined && sinceMs >= METER_GAP_MS) return { do: "command", command, text: key };
  return onControl && !/[\p{L}\p{N}.,+-]/u.test(key) ? { do: "leave" } : { do: "type", text: key };
}

const MM_PER_IN = 25.4;
const INCHES = /^(\d+)?(?:([.,])(\d+)|[ -](\d+)\/(\d+))?\s?(?:in|inch|inches|["″”])?$/iu;

/**
 * What was typed as the session takes it: where lengths are in inches, a bare number or one with an inch mark becomes
 * millimetres, to a hundredth; a number that says mm, cm or m stays. A number that can't be in inches but is one in millimetres
 * (a meter that is set so) stays too.
 */
export function inTheSessionsUnit(text: string, unit: LengthUnit, expected: Expected | undefined): string {
  const plain = text.trim();
  const marked = /(?:in|inch|inches|["″”])$/iu.test(plain);
  if (unit !== "in" && !marked) return text;
  const parts = INCHES.exec(plain);
  if (parts === null || plain === "") return text;
  const [, whole = "0", , decimals, over, under] = parts;
  const fraction = over === undefined ? 0 : Number(over) / Number(under);
  const inches = Number(decimals === undefined ? whole : `${whole}.${decimals}`) + fraction;
  const mm = inches * MM_PER_IN;
  if (!Number.isFinite(mm)) return text;
  const isFar = (valueMm: number): boolean =>
    expected !== undefined && Math.abs(valueMm / 1000 - expected.valueM) > 0.25 * expected.valueM;
  if (!marked && isFar(mm) && !isFar(inches)) return text;
  return `${Number(mm.toFixed(2))} mm`;
}
