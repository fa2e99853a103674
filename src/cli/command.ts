/** What a command is: its help, its options and what it does. */
import { type Io, UsageError } from "./io.ts";
import type { Arguments, OptionSpecs } from "./options.ts";

export interface Command {
  /** The whole help text, ending with a line break. */
  readonly help: string;
  readonly options: OptionSpecs;
  /** Names of the operands, all needed. */
  readonly operands: readonly string[];
  /** Returns the exit code. */
  run(given: Arguments, io: Io): Promise<number>;
}

/** Standard input can be read once. */
export function oneStdin(...paths: readonly (string | undefined)[]): void {
  if (paths.filter((path) => path === "-").length > 1) {
    throw new UsageError('only one file can be "-" (standard input)');
  }
}
