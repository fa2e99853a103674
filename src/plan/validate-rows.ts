/** Rules of rows and loops in one half: brake lines apart from the others, loops at maillons only. */
import { say } from "../words/index.ts";
import type { Cascade } from "./cascade.ts";
import type { Problem } from "./model.ts";
import { called, type HalfPlace, problem } from "./wording.ts";

/** Problems of rows that don't go together and of loops where no maillon is, in one half. */
export function rowAndLoopProblems(place: HalfPlace, cascade: Cascade): readonly Problem[] {
  const found: Problem[] = [];
  const inCircle = new Set(cascade.circles.flat());
  for (const [id, { item, index }] of cascade.lines) {
    const foot = cascade.footing.get(id)?.kind;
    const at = `${place.where}.lines[${index}]`;
    const name = called(place, "line", id);
    const brake = item.row === "brake";
    const below = foot === "line" ? cascade.lines.get(item.hangsOn)?.item : undefined;
    if (brake && foot === "maillon") {
      found.push(
        problem(
          "error",
          `${at}.hangsOn`,
          id,
          say("plan.line.brake-maillon", { name, maillon: item.hangsOn }),
          say("plan.line.brake-maillon.fix"),
        ),
      );
    } else if (!brake && foot === "pulley") {
      found.push(
        problem(
          "error",
          `${at}.hangsOn`,
          id,
          say("plan.line.on-pulley", { name, row: item.row }),
          say("plan.line.on-pulley.fix"),
        ),
      );
    } else if (below !== undefined && (below.row === "brake") !== brake) {
      found.push(
        problem(
          "error",
          `${at}.row`,
          id,
          say("plan.line.mixed", { name, row: item.row, below: below.id, belowRow: below.row }),
          say("plan.line.mixed.fix"),
        ),
      );
    }
    // A lower line said to hang on a line is told for its tier, and a circle for itself: the loop is no fault then.
    const loopAgrees = inCircle.has(id) || (foot === "line" && item.tier === 1);
    if (item.loop !== undefined && (foot === "line" || foot === "pulley") && !loopAgrees) {
      found.push(
        problem(
          "error",
          `${at}.loop`,
          id,
          say("plan.loop.elsewhere", { name, loop: item.loop.name, on: foot, foot: item.hangsOn }),
          say("plan.loop.elsewhere.fix"),
        ),
      );
    }
  }
  for (const [id, { item, index }] of cascade.tabs) {
    const line = cascade.lines.get(item.line)?.item;
    if (line === undefined || line.row === item.row) continue;
    const name = called(place, "tab", id);
    const where = `${place.where}.tabs[${index}].row`;
    if ((line.row === "brake") !== (item.row === "brake")) {
      found.push(
        problem(
          "error",
          where,
          id,
          say("plan.tab.mixed", { name, row: item.row, line: line.id, lineRow: line.row }),
          say("plan.tab.mixed.fix"),
        ),
      );
    } else if (line.row !== "tip" && item.row !== "tip") {
      found.push(
        problem(
          "warning",
          where,
          id,
          say("plan.tab.other-row", { name, row: item.row, line: line.id, lineRow: line.row }),
          say("plan.tab.other-row.fix"),
        ),
      );
    }
  }
  return found;
}
