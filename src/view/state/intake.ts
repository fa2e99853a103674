/** What a text that the user brought is: told from its content, not from its name. */

export type Intake = "plan" | "check" | "book" | "sheet" | "unknown JSON" | "broken JSON" | "empty";

/** A plan, a check, the bench's book of loops, a sheet of readings (CSV), or what is the matter with it. */
export function recognise(text: string): Intake {
  const trimmed = text.replace(/^\uFEFF/, "").trim();
  if (trimmed === "") return "empty";
  if (!/^[[{]/.test(trimmed)) return "sheet";
  let value: unknown;
  try {
    value = JSON.parse(trimmed);
  } catch {
    return "broken JSON";
  }
  const fields = value as { format?: unknown; readings?: unknown; sides?: unknown; wing?: unknown };
  if (fields.format === "linewright-plan") return "plan";
  if (fields.format === "linewright-check") return "check";
  if (fields.format === "linewright-loops") return "book";
  if (fields.sides !== undefined) return "plan";
  return fields.readings === undefined ? "unknown JSON" : "check";
}
