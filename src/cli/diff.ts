/** `linewright diff`: what changed between two versions of a plan. */
import { type PlanChange, planDiff } from "../plan/draft/index.ts";
import { type Command, oneStdin } from "./command.ts";
import { readPlan } from "./inputs.ts";
import { EXIT_OK, EXIT_PROBLEMS } from "./io.ts";
import { jsonText, problemsText, WING_CAUTION } from "./messages.ts";
import { paragraph } from "./table.ts";

export const diff: Command = {
  options: { json: { type: "boolean" } },
  operands: ["<old.json>", "<new.json>"],
  help: `linewright diff <old.json> <new.json> [--json]

What changed from one version of a plan to the next: lines and tabs added, removed, of another length, material or
place; risers, materials, limits, figures of the canopy. What changed alike on both sides is told once. Lines and
tabs are known by their names. "-" reads one of the plans from standard input.
Exit code 0, with or without changes; 1 where a plan can't be used.

  --json   the changes as JSON, in SI units

Example:
  linewright diff wing-2025.json wing-2026.json
`,
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
          caution: WING_CAUTION,
        }),
      );
    else {
      io.out(
        changes.length === 0
          ? "The plans are the same.\n"
          : `${changes.length} ${changes.length === 1 ? "change" : "changes"}\n${changes.map((change) => paragraph(change.sentence, "  ")).join("")}`,
      );
      io.out(
        `\n${paragraph(`That plans are the same says nothing of the lines that are fitted. ${WING_CAUTION}`)}`,
      );
    }
    return EXIT_OK;
  },
};

function plain(change: PlanChange): object {
  return { ...change, side: change.side ?? null, before: change.before ?? null, after: change.after ?? null };
}
