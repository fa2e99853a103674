/** Names in the workshop's sentences, in the language that is set. */
import { sidedName } from "../diagnosis/wording.ts";
import type { Line, Side } from "../plan/index.ts";
import { listed, say } from "../words/index.ts";

/** A side as it is said. */
export function saySide(side: Side): string {
  return say("workshop.side", { side });
}

/** A line by name and side: `AL2 left`. */
export function lineName({ id, side }: Pick<Line, "id" | "side">): string {
  return sidedName(id, side);
}

/** Names as they are said: `A1`, `A1 and A2`, `A1, A2 and A3`. */
export function sayList(names: readonly string[]): string {
  return names.length === 0 ? say("workshop.nothing") : listed(names);
}
