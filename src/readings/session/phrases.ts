/** What a session says, each sentence with its key and values, and its English text. */
import type { Target } from "../model.ts";
import type { Phrase } from "./model.ts";

/** A phrase from its English pattern: `{mm}` is replaced by the value of that name. */
export function phrase(key: string, pattern: string, values: Readonly<Record<string, string>> = {}): Phrase {
  return { key, values, english: pattern.replace(/\{(\w+)\}/gu, (all, name: string) => values[name] ?? all) };
}

/** `7421 mm`; tenths only where there are any. */
export function lengthText(valueM: number): string {
  return `${Number((valueM * 1000).toFixed(1))} mm`;
}

/** `C7 left`, `line CM2 left`. */
export function targetText(target: Target): string {
  return `${target.kind === "line" ? "line " : ""}${target.id} ${target.side}`;
}
