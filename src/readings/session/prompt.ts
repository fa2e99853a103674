/** What is said aloud: which line next. */
import type { Target } from "../model.ts";
import { keyOfTarget, type Phrase, type Session } from "./model.ts";
import { phrase } from "./phrases.ts";

const ONES =
  "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split(
    " ",
  );
const TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split(" ");

/** `C seven, left`; `Again: C seven, left` where the last number is in doubt; what is left over where nothing is asked for. */
export function sayNext(session: Session): Phrase {
  const { next, targets } = session.state;
  if (next === undefined) {
    const open = session.state.order.steps.filter(
      ({ target }) => targets.get(keyOfTarget(target))?.status !== "read",
    ).length;
    return open === 0
      ? phrase("session.say.done", "All lines are read.")
      : phrase(
          "session.say.left-over",
          open === 1 ? "One line is left out." : "{count} lines are left out.",
          {
            count: numberWord(open),
          },
        );
  }
  const values = { name: spokenName(next.target.id), side: next.target.side };
  const what = next.target.kind === "line" ? "line {name}, {side}, alone" : "{name}, {side}";
  const key = `session.say.${next.target.kind}`;
  if (targets.get(keyOfTarget(next.target))?.status === "doubtful")
    return phrase(`${key}-again`, `Again: ${what}`, values);
  return phrase(key, what, values);
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

/** Numbers to 99 in words; above that digit by digit, as they are called out. */
function numberWord(value: number): string {
  if (value < 20) return ONES[value] ?? String(value);
  if (value > 99) return [...String(value)].map((digit) => ONES[Number(digit)] ?? digit).join(" ");
  const ten = TENS[Math.floor(value / 10) - 2] as string;
  return value % 10 === 0 ? ten : `${ten} ${ONES[value % 10]}`;
}
