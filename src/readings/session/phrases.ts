/** What a session says, each sentence with its key and values, and its text. */
import { type Key, say } from "../../words/index.ts";
import type { Target } from "../model.ts";
import type { Phrase } from "./model.ts";

/** A phrase of the catalogue; its text is in the language set, and can be had in another by key and values. */
export function phrase(key: Key, values: Readonly<Record<string, string>> = {}): Phrase {
  return { key, values, text: say(key, values) };
}

/** `7421 mm`; tenths only where there are any. */
export { typedLength as lengthText } from "../../words/index.ts";

/** `C7 left`, `line CM2 left`. */
export function targetText(target: Target): string {
  return say("session.target", { kind: target.kind, id: target.id, side: target.side });
}
