/** `linewright validate`: what is wrong with a plan file. */
import type { Wing } from "../plan/index.ts";
import type { Command } from "./command.ts";
import { readPlan } from "./inputs.ts";
import { EXIT_OK, EXIT_PROBLEMS } from "./io.ts";
import { jsonText, problemsJson, problemsText, WING_CAUTION } from "./messages.ts";
import { paragraph } from "./table.ts";
import { wingTitle } from "./wing-report.ts";

export const validate: Command = {
  options: { json: { type: "boolean" } },
  operands: ["<plan.json>"],
  help: `linewright validate <plan.json> [--json]

Reads a plan and lists its problems, errors first, each with its place in the file and what to do.
"-" reads the plan from standard input. Exit code 0 without errors (there may be warnings), 1 with errors.

  --json   the list as JSON

Example:
  linewright validate wing.json
`,
  async run(given, io) {
    const [path = ""] = given.operands;
    const parsed = await readPlan(path, io);
    const wing = parsed.ok ? parsed.value : undefined;
    if (given.flag("json")) {
      io.out(
        jsonText({
          format: "linewright-validation",
          version: 1,
          ok: parsed.ok,
          wing: wing === undefined ? null : { name: wing.name, size: wing.size ?? null, ...counts(wing) },
          problems: problemsJson(parsed.problems),
          caution: WING_CAUTION,
        }),
      );
    } else {
      const problems = problemsText(parsed.problems);
      if (problems !== "") io.out(`${problems}\n`);
      io.out(wing === undefined ? "The plan can't be used as it is.\n" : summary(wing));
      io.out(`\n${paragraph(WING_CAUTION)}`);
    }
    return parsed.ok ? EXIT_OK : EXIT_PROBLEMS;
  },
};

function counts(wing: Wing): { lines: number; tabs: number; rows: string[] } {
  return {
    lines: wing.lines.length,
    tabs: wing.tabs.length,
    rows: [...new Set(wing.tabs.map((tab) => tab.row))],
  };
}

function summary(wing: Wing): string {
  const { lines, tabs, rows } = counts(wing);
  return `${wingTitle(wing)}: readable. ${lines} lines, ${tabs} tabs, rows ${rows.join(", ")} (both sides together).\n`;
}
