/** The command line: finds the command, reads its arguments, turns what goes wrong into a message and an exit code. */
import { type Key, say } from "../words/index.ts";
import type { Command } from "./command.ts";
import { speakAsAsked, speakAsSet, takeGlobals } from "./globals.ts";
import { EXIT_OK, EXIT_USAGE, type Io, UsageError } from "./io.ts";
import { wingCaution } from "./messages.ts";
import { readArguments } from "./options.ts";
import { paragraph } from "./table.ts";

interface Entry {
  readonly name: string;
  /** One line for the list of commands. */
  readonly summary: Key;
  /** Global options that the command has for itself, with another meaning. */
  readonly own?: readonly string[];
  /** Loaded when asked for: most commands don't need most of the program. */
  readonly load: () => Promise<Command>;
}

const COMMANDS: readonly Entry[] = [
  {
    name: "validate",
    summary: "cli.summary.validate",
    load: async () => (await import("./validate.ts")).validate,
  },
  {
    name: "columns",
    summary: "cli.summary.columns",
    own: ["--unit"],
    load: async () => (await import("./columns.ts")).columns,
  },
  {
    name: "compare",
    summary: "cli.summary.compare",
    load: async () => (await import("./compare.ts")).compare,
  },
  {
    name: "diagnose",
    summary: "cli.summary.diagnose",
    load: async () => (await import("./diagnose.ts")).diagnose,
  },
  {
    name: "loops",
    summary: "cli.summary.loops",
    load: async () => (await import("./loops.ts")).loops,
  },
  {
    name: "recheck",
    summary: "cli.summary.recheck",
    load: async () => (await import("./recheck.ts")).recheck,
  },
  {
    name: "order",
    summary: "cli.summary.order",
    load: async () => (await import("./order.ts")).order,
  },
  {
    name: "shape",
    summary: "cli.summary.shape",
    load: async () => (await import("./shape.ts")).shape,
  },
  {
    name: "network",
    summary: "cli.summary.network",
    load: async () => (await import("./network.ts")).network,
  },
  {
    name: "build",
    summary: "cli.summary.build",
    load: async () => (await import("./build.ts")).build,
  },
  {
    name: "diff",
    summary: "cli.summary.diff",
    load: async () => (await import("./diff.ts")).diff,
  },
  {
    name: "schema",
    summary: "cli.summary.schema",
    load: async () => (await import("./schema.ts")).schema,
  },
];

function help(): string {
  const commands = COMMANDS.map(({ name, summary }) => `  ${name.padEnd(10)}${say(summary)}\n`).join("");
  return `${say("cli.help.main", { commands })}\n\n${paragraph(wingCaution())}`;
}

/**
 * Runs one command line.
 * @param argv The arguments after the program's name.
 * @returns The exit code: 0 done, 1 problems in the input or no equilibrium, 2 wrong usage or an unusable file.
 */
export async function main(argv: readonly string[], io: Io): Promise<number> {
  await speakAsSet(io.env);
  try {
    const globals = takeGlobals(
      argv,
      (command, option) => COMMANDS.find(({ name }) => name === command)?.own?.includes(option) === true,
    );
    await speakAsAsked(globals, io.env);
    return await runCommand(globals.rest, io);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    io.err(`linewright: ${error.message}\n${say("cli.see", { command: "linewright --help" })}\n`);
    return EXIT_USAGE;
  }
}

async function runCommand([name, ...rest]: readonly string[], io: Io): Promise<number> {
  if (name === undefined) {
    io.err(help());
    return EXIT_USAGE;
  }
  if (name === "--help" || name === "-h" || (name === "help" && rest.length === 0)) {
    io.out(help());
    return EXIT_OK;
  }
  if (name === "--version" || name === "-V") {
    io.out(`${io.version}\n`);
    return EXIT_OK;
  }
  const asked = name === "help" ? (rest[0] as string) : name;
  const entry = COMMANDS.find((each) => each.name === asked);
  if (entry === undefined) {
    const kind = asked.startsWith("-") ? "option" : "command";
    const names = COMMANDS.map((each) => each.name).join(", ");
    io.err(`linewright: ${say("cli.unknown", { kind, name: asked, names })}\n`);
    return EXIT_USAGE;
  }
  const command = await entry.load();
  if (name === "help" || rest.includes("--help") || rest.includes("-h")) {
    io.out(command.help());
    return EXIT_OK;
  }
  try {
    const operands = command.operands.map((key) => say(key));
    return await command.run(readArguments(rest, command.options, operands), io);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    io.err(
      `linewright ${entry.name}: ${error.message}\n${say("cli.see", { command: `linewright ${entry.name} --help` })}\n`,
    );
    return EXIT_USAGE;
  }
}
