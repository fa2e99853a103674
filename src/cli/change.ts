/** What `--change` asks for: lines by name, side or row, and by how much. */

import { SIDES, type Wing } from "../plan/index.ts";
import { listed, say } from "../words/index.ts";
import { UsageError } from "./io.ts";
import { readNumber } from "./options.ts";

/**
 * Length changes by line key [m] from texts like `left:A1=-10`, `A1=-10` (both sides) or `row:C=-12` (all lower
 * lines of the row). Several changes of the same line add up.
 *
 * @throws UsageError naming the text, where the line or row isn't in the plan or the amount isn't a number.
 */
export function readChanges(texts: readonly string[], wing: Wing): Map<string, number> {
  const changes = new Map<string, number>();
  for (const text of texts) {
    const split = text.lastIndexOf("=");
    if (split < 1) throw new UsageError(say("cli.change.form", { text }));
    const lengthM = readNumber(text.slice(split + 1), `--change ${text}`, "mm") / 1000;
    for (const key of namedLines(text.slice(0, split).trim(), wing, "--change")) {
      changes.set(key, (changes.get(key) ?? 0) + lengthM);
    }
  }
  return changes;
}

/** @throws UsageError where a line would be left with no length. */
export function requireLengths(changes: ReadonlyMap<string, number>, wing: Wing): void {
  for (const line of wing.lines) {
    if (line.lengthM + (changes.get(line.key) ?? 0) <= 0) {
      throw new UsageError(say("cli.change.nothing", { line: line.key }));
    }
  }
}

/**
 * Keys of the lines that a name means: `left:A1`, `A1` (both sides), `row:C` or `left:row:C` (all lower lines of the row).
 *
 * @param option the option that it was given for, for the message
 * @throws UsageError naming the text, where the plan has no such line or row.
 */
export function namedLines(name: string, wing: Wing, option: string): string[] {
  const side = SIDES.find((each) => name.startsWith(`${each}:`));
  const rest = side === undefined ? name : name.slice(side.length + 1);
  const onSide = wing.lines.filter((line) => side === undefined || line.side === side);
  if (rest.startsWith("row:")) {
    const row = rest.slice("row:".length);
    const lines = onSide.filter((line) => line.row === row && line.tier === 1);
    if (lines.length > 0) return lines.map((line) => line.key);
    const rows = [...new Set(onSide.filter((line) => line.tier === 1).map((line) => line.row))];
    throw new UsageError(say("cli.lines.row", { option, row, rows: rows.join(", ") }));
  }
  const lines = onSide.filter((line) => line.id === rest);
  if (lines.length > 0) return lines.map((line) => line.key);
  const alike = [...new Set(onSide.map((line) => line.id))].filter(
    (id) => id.toLowerCase() === rest.toLowerCase(),
  );
  throw new UsageError(
    alike.length > 0
      ? say("cli.lines.alike", { option, name, names: listed(alike, "or") })
      : say("cli.lines.none", { option, name }),
  );
}
