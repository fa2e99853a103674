/** What a command is: its help, its options and what it does. */
import { type Key, say } from "../words/index.ts";
import { type Io, UsageError } from "./io.ts";
import type { Arguments, OptionSpecs } from "./options.ts";

export interface Command {
  /** The whole help text in the language set, ending with a line break. */
  help(): string;
  readonly options: OptionSpecs;
  /** What the operands are called, all needed. */
  readonly operands: readonly Key[];
  /** Returns the exit code. */
  run(given: Arguments, io: Io): Promise<number>;
}

/** Standard input can be read once. */
export function oneStdin(...paths: readonly (string | undefined)[]): void {
  if (paths.filter((path) => path === "-").length > 1) throw new UsageError(say("cli.stdin.once"));
}
