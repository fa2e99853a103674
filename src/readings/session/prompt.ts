/** What is said aloud: which line next. */
import { say } from "../../words/index.ts";
import type { Target } from "../model.ts";
import { keyOfTarget, type Phrase, type Session } from "./model.ts";
import { phrase } from "./phrases.ts";

/** `C seven, left`; `Again: C seven, left` where the last number is in doubt; what is left over where nothing is asked for. */
export function sayNext(session: Session): Phrase {
  const { next, targets } = session.state;
  if (next === undefined) {
    const open = session.state.order.steps.filter(
      ({ target }) => targets.get(keyOfTarget(target))?.status !== "read",
    ).length;
    return open === 0
      ? phrase("session.say.done")
      : phrase(open === 1 ? "session.say.left-over.one" : "session.say.left-over", {
          count: numberWord(open),
        });
  }
  const values = { name: spokenName(next.target.id), side: next.target.side };
  const isLine = next.target.kind === "line";
  if (targets.get(keyOfTarget(next.target))?.status === "doubtful")
    return phrase(isLine ? "session.say.line-again" : "session.say.tab-again", values);
  return phrase(isLine ? "session.say.line" : "session.say.tab", values);
}

/** A target's name as it is spoken: `C7` → `C seven`, `BRL12` → `B R L twelve`. */
export function spokenName(id: Target["id"]): string {
  const parts = id.match(/\p{L}+|\d+/gu) ?? [id];
  return parts
    .map((part) =>
      /^\d/u.test(part) ? numberWord(Number(part)) : part.length <= 3 ? [...part].join(" ") : part,
    )
    .join(" ");
}

/** Numbers to 99 as they are spoken, for a voice of the language to say; above that digit by digit, as they are called out. */
function numberWord(value: number): string {
  // Words of one number are held together by no-break spaces there.
  const words = say("session.numbers")
    .split(" ")
    .map((word) => word.replaceAll("\u00a0", " "));
  if (value <= 99) return words[value] ?? String(value);
  return [...String(value)].map((digit) => words[Number(digit)] ?? digit).join(" ");
}
