/** Reads a command's arguments: `node:util` parses them, this says in one sentence what was wrong. */

import { type ParseArgsConfig, parseArgs } from "node:util";
import { say } from "../words/index.ts";
import { UsageError } from "./io.ts";

export type OptionSpecs = NonNullable<ParseArgsConfig["options"]>;

export interface Arguments {
  /** File names and the like, in order. */
  readonly operands: readonly string[];
  flag(name: string): boolean;
  text(name: string): string | undefined;
  texts(name: string): readonly string[];
  /** Throws `UsageError` where the text isn't a finite number; a comma for the decimal point and the long minus are understood. */
  number(name: string, unit: string): number | undefined;
}

/**
 * @param operands Names of the operands the command takes, all needed, for the message when one is missing.
 * @throws UsageError for an unknown option, a missing value, too few or too many operands.
 */
export function readArguments(
  argv: readonly string[],
  specs: OptionSpecs,
  operands: readonly string[],
): Arguments {
  let parsed: { values: Record<string, unknown>; positionals: string[] };
  try {
    parsed = parseArgs({
      args: joinNegative(argv, specs),
      options: specs,
      allowPositionals: true,
      strict: true,
    });
  } catch (error) {
    throw new UsageError(wrongOption((error as Error).message));
  }
  const { values, positionals } = parsed;
  if (positionals.length < operands.length) {
    throw new UsageError(say("cli.operand.missing", { operand: operands[positionals.length] as string }));
  }
  if (positionals.length > operands.length) {
    throw new UsageError(say("cli.operand.unexpected", { argument: positionals[operands.length] as string }));
  }
  const text = (name: string): string | undefined => values[name] as string | undefined;
  return {
    operands: positionals,
    flag: (name) => values[name] === true,
    text,
    texts: (name) => (values[name] as string[] | undefined) ?? [],
    number: (name, unit) => {
      const given = text(name);
      return given === undefined ? undefined : readNumber(given, `--${name}`, unit);
    },
  };
}

/**
 * A number as people type it: `-12`, `−12`, `+3,5`, `12 mm` where the unit is the expected one.
 * @throws UsageError naming what was expected.
 */
export function readNumber(text: string, where: string, unit: string): number {
  const plain = text
    .trim()
    .replace("−", "-")
    .replace(",", ".")
    .replace(new RegExp(`\\s*${unit}$`), "");
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain)) {
    throw new UsageError(say("cli.number", { where, text, unit }));
  }
  return Number(plain);
}

/** `--zero -3`: a negative number after an option that takes a value is its value, not another option. */
function joinNegative(argv: readonly string[], specs: OptionSpecs): string[] {
  const joined: string[] = [];
  for (const token of argv) {
    const last = joined.at(-1);
    const takesValue =
      last?.startsWith("--") && !last.includes("=") && specs[last.slice(2)]?.type === "string";
    if (takesValue && /^-\.?\d/.test(token)) joined[joined.length - 1] = `${last}=${token}`;
    else joined.push(token);
  }
  return joined;
}

/** What Node says of an option, in the language set: the option as it names it, with how it is written. */
function wrongOption(message: string): string {
  const option = /'[^']*'/.exec(message)?.[0] ?? "";
  if (/^Unknown option/.test(message)) return say("cli.option.unknown", { option });
  if (/argument missing/.test(message)) return say("cli.option.missing", { option });
  if (/argument is ambiguous/.test(message)) return say("cli.option.ambiguous", { option });
  if (/does not take an argument/.test(message)) return say("cli.option.flag", { option });
  // Node goes on to explain; the first sentence is enough.
  return message.split(/\. |\n/)[0] ?? message;
}
