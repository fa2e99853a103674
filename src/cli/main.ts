/** The command line: finds the command, reads its arguments, turns what goes wrong into a message and an exit code. */
import type { Command } from "./command.ts";
import { EXIT_OK, EXIT_USAGE, type Io, UsageError } from "./io.ts";
import { WING_CAUTION } from "./messages.ts";
import { readArguments } from "./options.ts";
import { paragraph } from "./table.ts";

interface Entry {
  readonly name: string;
  /** One line for the list of commands. */
  readonly summary: string;
  /** Loaded when asked for: most commands don't need most of the program. */
  readonly load: () => Promise<Command>;
}

const COMMANDS: readonly Entry[] = [
  {
    name: "validate",
    summary: "list what is wrong with a plan file",
    load: async () => (await import("./validate.ts")).validate,
  },
  {
    name: "columns",
    summary: "how a table (CSV, XLSX) would be understood: columns, units, sides, what is open",
    load: async () => (await import("./columns.ts")).columns,
  },
  {
    name: "compare",
    summary: "readings against the plan: deviations, rows, findings",
    load: async () => (await import("./compare.ts")).compare,
  },
  {
    name: "diagnose",
    summary: "what the readings mean and how sure that is: decisions, lines, next readings",
    load: async () => (await import("./diagnose.ts")).diagnose,
  },
  {
    name: "loops",
    summary: "which loops to change at the maillons, and what that leaves",
    load: async () => (await import("./loops.ts")).loops,
  },
  {
    name: "recheck",
    summary: "a check after the work against the one before: did each change do what it promised",
    load: async () => (await import("./recheck.ts")).recheck,
  },
  {
    name: "order",
    summary: "the order list for lines to be made anew; finds lines by name, row, colour",
    load: async () => (await import("./order.ts")).order,
  },
  {
    name: "shape",
    summary: "the wing's shape and line tensions, as specified, measured or changed",
    load: async () => (await import("./shape.ts")).shape,
  },
  {
    name: "network",
    summary: "solve a bare network of nodes, lines and bars",
    load: async () => (await import("./network.ts")).network,
  },
  {
    name: "build",
    summary: "a plan file from a draft typed in from a printed line plan",
    load: async () => (await import("./build.ts")).build,
  },
  {
    name: "diff",
    summary: "what changed between two versions of a plan",
    load: async () => (await import("./diff.ts")).diff,
  },
  {
    name: "schema",
    summary: "print the JSON Schema of a plan, check, network or loops file",
    load: async () => (await import("./schema.ts")).schema,
  },
];

const HELP = `linewright <command> [options]

A paraglider's line plan against what was measured, and the shape of the wing that follows.

Commands:
${COMMANDS.map((command) => `  ${command.name.padEnd(10)}${command.summary}\n`).join("")}
  linewright <command> --help    what a command takes, with an example
  linewright --version

Files: "-" stands for standard input. Results go to standard output, messages to standard error.
Exit codes: 0 done (not: "in tolerance"); 1 the input has errors, or the model found no equilibrium;
2 the command was called wrongly, or a file can't be read or written.

Example:
  linewright compare wing.json readings.csv --date 2026-03-14 --tension 50 --from riser

${paragraph(WING_CAUTION)}`;

/**
 * Runs one command line.
 * @param argv The arguments after the program's name.
 * @returns The exit code: 0 done, 1 problems in the input or no equilibrium, 2 wrong usage or an unusable file.
 */
export async function main(argv: readonly string[], io: Io): Promise<number> {
  const [name, ...rest] = argv;
  if (name === undefined) {
    io.err(HELP);
    return EXIT_USAGE;
  }
  if (name === "--help" || name === "-h" || (name === "help" && rest.length === 0)) {
    io.out(HELP);
    return EXIT_OK;
  }
  if (name === "--version" || name === "-V") {
    io.out(`${io.version}\n`);
    return EXIT_OK;
  }
  const asked = name === "help" ? rest[0] : name;
  const entry = COMMANDS.find((each) => each.name === asked);
  if (entry === undefined) {
    const kind = asked?.startsWith("-") ? "option" : "command";
    io.err(
      `linewright: unknown ${kind} "${asked}"; there are ${COMMANDS.map((each) => each.name).join(", ")}\n`,
    );
    return EXIT_USAGE;
  }
  const command = await entry.load();
  if (name === "help" || rest.includes("--help") || rest.includes("-h")) {
    io.out(command.help);
    return EXIT_OK;
  }
  try {
    return await command.run(readArguments(rest, command.options, command.operands), io);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    io.err(`linewright ${entry.name}: ${error.message}\nSee \`linewright ${entry.name} --help\`.\n`);
    return EXIT_USAGE;
  }
}
