/** `linewright validate`: what is wrong with a plan file. */

import type { Wing } from "../plan/index.ts";
import { say } from "../words/index.ts";
import type { Command } from "./command.ts";
import { readPlan } from "./inputs.ts";
import { EXIT_OK, EXIT_PROBLEMS } from "./io.ts";
import { jsonText, problemsJson, problemsText, wingCaution } from "./messages.ts";
import { paragraph } from "./table.ts";
import { wingTitle } from "./wing-report.ts";

export const validate: Command = {
  options: { json: { type: "boolean" } },
  operands: ["cli.operand.plan"],
  help: () => say("cli.help.validate"),
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
          caution: wingCaution(),
        }),
      );
    } else {
      const problems = problemsText(parsed.problems);
      if (problems !== "") io.out(`${problems}\n`);
      io.out(wing === undefined ? `${say("cli.validate.unusable")}\n` : summary(wing));
      io.out(`\n${paragraph(wingCaution())}`);
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
  const said = { wing: wingTitle(wing), lines, tabs, rows: rows.join(", ") };
  return `${say("cli.validate.readable", said)}\n`;
}
