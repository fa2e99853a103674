/** What a command needs from the world outside, passed in so that a test can stand in for it. */
export interface Io {
  readonly version: string;
  /** Environment variables, for the language that they name. */
  readonly env: Readonly<Record<string, string | undefined>>;
  /** Today's ISO date, for readings that don't carry their own. */
  readonly today: string;
  /** Writes results to standard output. */
  out(text: string): void;
  /** Writes messages to standard error. */
  err(text: string): void;
  /** Throws where the file can't be read. */
  readFile(path: string): string;
  /** Throws where the file can't be read. */
  readBytes(path: string): Uint8Array;
  readStdin(): Promise<string>;
  /** Throws where the file can't be written. */
  writeFile(path: string, text: string): void;
}

/** 0: done. A comparison that finds a wing out of tolerance is done too. */
export const EXIT_OK = 0;
/** 1: the input has errors, or the model didn't come to rest. */
export const EXIT_PROBLEMS = 1;
/** 2: the command was called wrongly, or a file can't be read or written. */
export const EXIT_USAGE = 2;

/** The command line was wrong, or named a file that can't be used: told in one sentence, exit 2. */
export class UsageError extends Error {
  override readonly name = "UsageError";
}
