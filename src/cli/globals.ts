/** Options that every command takes: the language of texts, and the unit of short lengths in them. */
import {
  catalogueOf,
  LANGUAGES,
  type Language,
  type LengthUnit,
  languageFor,
  localeOf,
  say,
  speak,
} from "../words/index.ts";
import { type Io, UsageError } from "./io.ts";

const UNITS: readonly LengthUnit[] = ["mm", "in"];
const NAMES = ["--language", "--unit"] as const;
type Name = (typeof NAMES)[number];

export interface Globals {
  readonly language: string | undefined;
  readonly unit: string | undefined;
  /** What is left of the arguments. */
  readonly rest: readonly string[];
}

/**
 * Takes the global options out of the arguments, wherever they stand; the last of several holds.
 * @param isOwn whether an option after the command's name is one that the command has itself
 * @throws UsageError where an option has no value.
 */
export function takeGlobals(
  argv: readonly string[],
  isOwn: (command: string, option: string) => boolean,
): Globals {
  const found = new Map<Name, string>();
  const rest: string[] = [];
  let command: string | undefined;
  for (let place = 0; place < argv.length; place += 1) {
    const token = argv[place] as string;
    // What follows is no option, whatever it looks like.
    if (token === "--") return { ...valuesOf(found), rest: [...rest, ...argv.slice(place)] };
    const equals = token.indexOf("=");
    const name = NAMES.find((each) => each === (equals < 0 ? token : token.slice(0, equals)));
    if (name === undefined || (command !== undefined && isOwn(command, name))) {
      if (!token.startsWith("-")) command ??= token;
      rest.push(token);
      continue;
    }
    const value = equals < 0 ? argv[place + 1] : token.slice(equals + 1);
    if (value === undefined || value === "" || (equals < 0 && value.startsWith("-")))
      throw new UsageError(say("cli.option.value", { option: name }));
    found.set(name, value);
    if (equals < 0) place += 1;
  }
  return { ...valuesOf(found), rest };
}

function valuesOf(found: ReadonlyMap<Name, string>): Pick<Globals, "language" | "unit"> {
  return { language: found.get("--language"), unit: found.get("--unit") };
}

/**
 * The tag of the language that the environment names for messages, as POSIX has it: the first of LC_ALL, LC_MESSAGES
 * and LANG that is set. Undefined where that is none, or the C locale.
 */
export function environmentTag(env: Io["env"]): string | undefined {
  const named = [env.LC_ALL, env.LC_MESSAGES, env.LANG].find((each) => each !== undefined && each !== "");
  const tag = named?.split(/[.@]/)[0]?.replaceAll("_", "-");
  if (tag === undefined || tag === "C" || tag === "POSIX") return undefined;
  try {
    return Intl.getCanonicalLocales(tag)[0];
  } catch {
    return undefined;
  }
}

/** Speaks as the environment asks, in millimetres. */
export function speakAsSet(env: Io["env"]): Promise<void> {
  return speakIn(languageFor(preferred(env)), "mm", env);
}

/**
 * Speaks as the options ask; what they leave open is the environment's.
 * @throws UsageError for a language or a unit that there isn't.
 */
export async function speakAsAsked({ language, unit }: Globals, env: Io["env"]): Promise<void> {
  const tongue =
    language === undefined ? languageFor(preferred(env)) : oneOf(language, LANGUAGES, "--language");
  await speakIn(tongue, unit === undefined ? "mm" : oneOf(unit, UNITS, "--unit"), env);
}

function preferred(env: Io["env"]): string[] {
  const tag = environmentTag(env);
  return tag === undefined ? [] : [tag];
}

async function speakIn(language: Language, unit: LengthUnit, env: Io["env"]): Promise<void> {
  speak({
    language,
    locale: localeOf(language, preferred(env)),
    unit,
    catalogue: await catalogueOf(language),
  });
}

/** @throws UsageError naming what there is. */
export function oneOf<const T extends string>(text: string, known: readonly T[], option: string): T {
  const found = known.find((each) => each === text);
  if (found === undefined)
    throw new UsageError(say("cli.option.none-of", { option, text, names: known.join(", ") }));
  return found;
}
