/** What one more reading would settle, and how well a single line is known, in words. */
import type { Knowledge, LineAttribution } from "../../diagnosis/attribution.ts";
import type { NextReadings, ReadingGain } from "../../diagnosis/next-reading.ts";
import type { Wing } from "../../plan/model.ts";
import { fixed, type Key, lengthNumber, lengthUnitName, say } from "../../words/index.ts";
import { signedMm } from "./format.ts";
import { lineName } from "./judging-words.ts";

export interface NextEntry {
  readonly lineKey: string;
  readonly name: string;
  /** `would halve the doubt about it`. */
  readonly gain: string;
  /** Standard deviation now and after, in figures: `±3.9 → ±1.0 mm`. */
  readonly figures: string;
  readonly beforeM: number;
  readonly afterM: number;
  /** What it tells of all the lines. */
  readonly others: string;
}

/** How much of its doubt a line would lose. */
export function gainText({ beforeM, afterM }: Pick<ReadingGain, "beforeM" | "afterM">): string {
  const left = beforeM > 0 ? afterM / beforeM : 1;
  if (left <= 0.28) return say("judging.gain.settle");
  if (left <= 0.4) return say("judging.gain.third");
  if (left <= 0.6) return say("judging.gain.half");
  if (left <= 0.85) return say("judging.gain.quarter");
  return say("judging.gain.hardly");
}

function othersText(share: number): string {
  const percent = Math.round(share * 100);
  return percent < 1
    ? say("judging.gain.others.little")
    : say("judging.gain.others", { percent: fixed(percent, 0) });
}

/** The best few in turn, each counted after those before it. */
export function nextEntries(wing: Wing, next: NextReadings): readonly NextEntry[] {
  return next.best.map((gain): NextEntry => {
    const { lineKey, beforeM, afterM, share } = gain;
    return {
      lineKey,
      name: lineName(wing, lineKey),
      gain: gainText(gain),
      figures: `±${lengthNumber(beforeM, 1)} → ±${lengthNumber(afterM, 1)} ${lengthUnitName()}`,
      beforeM,
      afterM,
      others: othersText(share),
    };
  });
}

export interface LineDoubtEntry {
  /** `−4.2 ±1.1`: mean and one standard deviation, in the unit that is set. */
  readonly change: string;
  readonly changeM: number;
  readonly deviationM: number;
  readonly priorDeviationM: number;
  /** How it is known. */
  readonly known: string;
  readonly partners: readonly { readonly lineKey: string; readonly name: string }[];
}

const KNOWN: Readonly<Record<Knowledge, Key>> = {
  "read alone": "judging.known.alone",
  "told apart": "judging.known.apart",
  "not told apart": "judging.known.together",
  "not read": "judging.known.none",
};

export function lineDoubtEntry(wing: Wing, line: LineAttribution): LineDoubtEntry {
  const own = wing.lines.find(({ key }) => key === line.lineKey);
  // Partners hang on the same side; the side is said only where it is another one.
  const partners = line.partners.map(({ lineKey }) => {
    const partner = wing.lines.find(({ key }) => key === lineKey);
    const name = partner !== undefined && partner.side === own?.side ? partner.id : lineName(wing, lineKey);
    return { lineKey, name };
  });
  return {
    change: `${signedMm(line.changeM, 1)} ±${lengthNumber(line.deviationM, 1)}`,
    changeM: line.changeM,
    deviationM: line.deviationM,
    priorDeviationM: line.priorDeviationM,
    known: say(KNOWN[line.knowledge]),
    partners,
  };
}
