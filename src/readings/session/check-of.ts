/** The check that a session has come to. */
import { say } from "../../words/index.ts";
import type { Check, Reading } from "../model.ts";
import type { Session } from "./model.ts";
import { lengthText, targetText } from "./phrases.ts";

/**
 * The readings that count, repeats and notes with them, in the order of the session's list and then of typing. What was
 * overruled stands in the reading's note. Numbers that nothing has confirmed are left out and named in the check's note, unless
 * `withDoubtful`.
 */
export function checkOf(session: Session, withDoubtful = false): Check {
  const { frame, targets, order, notes } = session.state;
  const place = new Map(
    order.steps.map(({ target }, i) => [`${target.kind} ${target.side} ${target.id}`, i]),
  );
  const states = [...targets].sort(
    ([one], [other]) => (place.get(one) ?? order.steps.length) - (place.get(other) ?? order.steps.length),
  );
  const remarks = [frame.note, ...notes];
  const readings = states.flatMap(([, one]): Reading[] => {
    const valuesM = withDoubtful ? [...one.acceptedM, ...one.doubtfulM] : one.acceptedM;
    const aside = one.setAsideM.map(lengthText).join(", ");
    const said = [...one.notes, ...(aside === "" ? [] : [say("session.overruled", { lengths: aside })])];
    if (!withDoubtful && one.doubtfulM.length > 0)
      remarks.push(
        say("session.unconfirmed", {
          target: targetText(one.target),
          lengths: one.doubtfulM.map(lengthText).join(", "),
        }),
      );
    if (valuesM.length === 0) {
      // There is no reading that the note could stand with.
      remarks.push(...one.notes.map((text) => `${targetText(one.target)}: ${text}`));
      return [];
    }
    return [{ target: one.target, valuesM, note: joined(said, 2000) }];
  });
  return { ...frame, note: joined(remarks, 10_000), readings };
}

/** Cut where a check file would refuse it; the journal has it whole. */
function joined(parts: readonly (string | undefined)[], most: number): string | undefined {
  const text = parts.filter((part) => part !== undefined && part !== "").join("; ");
  return text === "" ? undefined : text.length > most ? `${text.slice(0, most - 1)}…` : text;
}
