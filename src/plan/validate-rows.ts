/** Rules of rows and loops in one half: brake lines apart from the others, loops at maillons only. */
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
          `${name} is a brake line and hangs on maillon ${item.hangsOn}; "pulley" was expected.`,
          'Set hangsOn to "pulley", or correct the row.',
        ),
      );
    } else if (!brake && foot === "pulley") {
      found.push(
        problem(
          "error",
          `${at}.hangsOn`,
          id,
          `${name} of row ${item.row} hangs on the pulley; only a brake line runs there.`,
          "Name the maillon it hangs on, or correct the row.",
        ),
      );
    } else if (below !== undefined && (below.row === "brake") !== brake) {
      found.push(
        problem(
          "error",
          `${at}.row`,
          id,
          `${name} of row ${item.row} hangs on ${below.id} of row ${below.row}; brake lines and the others share no line.`,
          "Correct the row or hangsOn.",
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
          `${name} has a loop (${item.loop.name}) but hangs on ${foot === "line" ? `line ${item.hangsOn}` : "the pulley"}; a loop is set at a maillon.`,
          "Remove the loop and give the length as it is when joined.",
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
          `${name} of row ${item.row} is the end of ${line.id}, which is of row ${line.row}; a brake line ends at a brake tab, and no other line does.`,
          "Correct the row or the line.",
        ),
      );
    } else if (line.row !== "tip" && item.row !== "tip") {
      found.push(
        problem(
          "warning",
          where,
          id,
          `${name} of row ${item.row} is the end of ${line.id}, which is of row ${line.row}; the same row was expected.`,
          "Correct the row or the line, unless the plan has it so.",
        ),
      );
    }
  }
  return found;
}
