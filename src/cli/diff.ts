/** `linewright diff`: what changed between two versions of a plan. */

import { type PlanChange, planDiff } from "../plan/draft/index.ts";
import { say } from "../words/index.ts";
import { type Command, oneStdin } from "./command.ts";
import { readPlan } from "./inputs.ts";
import { EXIT_OK, EXIT_PROBLEMS } from "./io.ts";
import { jsonText, problemsText, wingCaution } from "./messages.ts";
import { paragraph } from "./table.ts";

export const diff: Command = {
  options: { json: { type: "boolean" } },
  operands: ["cli.operand.old", "cli.operand.new"],
  help: () => say("cli.help.diff"),
  async run(given, io) {
    const [oldPath = "", newPath = ""] = given.operands;
    oneStdin(oldPath, newPath);
    const before = await readPlan(oldPath, io);
    const after = await readPlan(newPath, io);
    for (const [path, parsed] of [
      [oldPath, before],
      [newPath, after],
    ] as const) {
      if (!parsed.ok) io.err(`${path}:\n${problemsText(parsed.problems)}`);
    }
    if (!before.ok || !after.ok) return EXIT_PROBLEMS;
    const changes = planDiff(before.value, after.value);
    if (given.flag("json"))
      io.out(
        jsonText({
          format: "linewright-diff",
          version: 1,
          changes: changes.map(plain),
          caution: wingCaution(),
        }),
      );
    else {
      io.out(
        changes.length === 0
          ? `${say("cli.diff.same")}\n`
          : `${say("cli.diff.count", { count: changes.length })}\n${changes.map((change) => paragraph(change.sentence, "  ")).join("")}`,
      );
      io.out(`\n${paragraph(`${say("cli.diff.fitted")} ${wingCaution()}`)}`);
    }
    return EXIT_OK;
  },
};

function plain(change: PlanChange): object {
  return { ...change, side: change.side ?? null, before: change.before ?? null, after: change.after ?? null };
}
