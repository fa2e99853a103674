/** What a session shows of what was entered: the last few, what can be taken back, and how long the rest will take. */
import type { Target } from "../../readings/model.ts";
import { holding } from "../../readings/session/fold.ts";
import { type Entry, type Phrase, type Session, targetText } from "../../readings/session/index.ts";
import {
  ENGLISH,
  fixed,
  inUnit,
  type Key,
  lengthDecimals,
  lengthUnitName,
  say,
  speech,
} from "../../words/index.ts";

export interface Recent {
  readonly n: number;
  readonly target: Target;
  readonly valuesM: readonly number[];
  readonly level: "fine" | "doubtful";
}

/** The last readings that hold, the latest first. */
export function recentOf(session: Session, most: number): readonly Recent[] {
  return holding(session.journal)
    .flatMap((entry): Recent[] =>
      (entry.kind === "reading" || entry.kind === "repeat") &&
      entry.valuesM.length > 0 &&
      entry.verdict.level !== "impossible"
        ? [
            {
              n: entry.n,
              target: entry.target,
              valuesM: entry.valuesM,
              level: entry.verdict.level === "doubtful" ? "doubtful" : "fine",
            },
          ]
        : [],
    )
    .slice(-most)
    .reverse();
}

/** What taking back would take back, the next first; the start isn't among it. */
export function backwards(session: Session, most: number): readonly Entry[] {
  return holding(session.journal).slice(1).slice(-most).reverse();
}

/** An entry in a few words. */
export function entryWords(entry: Entry): string {
  switch (entry.kind) {
    case "reading":
    case "repeat":
      return say("measure.entry.reading", {
        target: targetText(entry.target),
        length: entry.valuesM.length > 0 ? lengthsText(entry.valuesM) : entry.typed,
      });
    case "skip":
      return say("measure.entry.skip", { target: targetText(entry.target) });
    case "note":
      return entry.about === undefined
        ? say("measure.entry.note", { text: entry.text })
        : say("measure.entry.noteAbout", { target: targetText(entry.about), text: entry.text });
    case "go to":
      return say("measure.entry.goTo", { target: targetText(entry.step.target) });
    case "order":
      return say("measure.entry.order", { order: entry.order.name });
    case "frame":
      return say("measure.entry.frame");
    case "start":
    case "undo":
      return "";
  }
}

/** A reading as it was taken: tenths of a millimetre only where there are any. */
export function readingText(valueM: number): string {
  const decimals =
    speech().unit === "mm" && Math.abs(valueM * 1e4 - Math.round(valueM * 1e3) * 10) > 0.01 ? 1 : 0;
  return `${fixed(inUnit(valueM), lengthDecimals(decimals))} ${lengthUnitName()}`;
}

/** Repeats of one entry. */
export function lengthsText(valuesM: readonly number[]): string {
  return valuesM.map(readingText).join(" · ");
}

/** A sentence of the session in the language set; as it was said where the catalogue has none of it. */
export function phraseText({ key, values, text }: Phrase): string {
  return Object.hasOwn(ENGLISH, key) ? say(key as Key, values) : text;
}

const MINUTE_MS = 60_000;

/** How long the rest will take, in whole minutes; nothing until the pace can be told. */
export function timeLeftText(leftMs: number | undefined): string | undefined {
  if (leftMs === undefined) return undefined;
  const minutes = Math.max(1, Math.round(leftMs / MINUTE_MS));
  return say("measure.left", { minutes });
}

/** How long ago, in the coarsest unit that says something. */
export function agoText(thenMs: number, nowMs: number): string {
  const format = new Intl.RelativeTimeFormat(speech().locale, { numeric: "auto" });
  const minutes = Math.max(0, Math.round((nowMs - thenMs) / MINUTE_MS));
  if (minutes < 60) return format.format(-minutes, "minute");
  if (minutes < 48 * 60) return format.format(-Math.round(minutes / 60), "hour");
  return format.format(-Math.round(minutes / (24 * 60)), "day");
}

/** Targets whose names begin as is typed, with a side where one is named after it: `C7 r`, `c7`, `brake3 left`. */
export function targetsLike<T extends { readonly target: Target }>(
  steps: readonly T[],
  typed: string,
): readonly T[] {
  const [, name = "", side = ""] =
    /^\s*(.*?)(?:[\s,]+(l|left|links|g|gauche|r|right|rechts|d|droite))?\s*$/iu.exec(typed) ?? [];
  const wanted = name.toLowerCase();
  if (wanted === "") return [];
  const letter = side.toLowerCase().charAt(0);
  const of = letter === "" ? undefined : letter === "l" || letter === "g" ? "left" : "right";
  const rank = ({ target }: T): number => (target.id.toLowerCase() === wanted ? 0 : 1);
  return steps
    .filter(
      ({ target }) => target.id.toLowerCase().startsWith(wanted) && (of === undefined || target.side === of),
    )
    .sort((one, other) => rank(one) - rank(other));
}
