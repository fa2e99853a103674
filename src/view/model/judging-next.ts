/** What one more reading would settle, and how well a single line is known, in words. */
import type { Knowledge, LineAttribution } from "../../diagnosis/attribution.ts";
import type { NextReadings, ReadingGain } from "../../diagnosis/next-reading.ts";
import type { Wing } from "../../plan/model.ts";
import { signed } from "./format.ts";
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
  if (left <= 0.28) return "would all but settle it";
  if (left <= 0.4) return "would leave a third of the doubt about it";
  if (left <= 0.6) return "would halve the doubt about it";
  if (left <= 0.85) return "would take about a quarter off the doubt about it";
  return "would hardly change the doubt about it";
}

function othersText(share: number): string {
  const percent = Math.round(share * 100);
  return percent < 1
    ? "tells little of the others"
    : `takes ${percent} % off what is unknown about all lines`;
}

/** The best few in turn, each counted after those before it. */
export function nextEntries(wing: Wing, next: NextReadings): readonly NextEntry[] {
  return next.best.map((gain): NextEntry => {
    const { lineKey, beforeM, afterM, share } = gain;
    return {
      lineKey,
      name: lineName(wing, lineKey),
      gain: gainText(gain),
      figures: `±${(beforeM * 1000).toFixed(1)} → ±${(afterM * 1000).toFixed(1)} mm`,
      beforeM,
      afterM,
      others: othersText(share),
    };
  });
}

export interface LineDoubtEntry {
  /** `−4.2 ±1.1`: mean and one standard deviation [mm]. */
  readonly change: string;
  readonly changeM: number;
  readonly deviationM: number;
  readonly priorDeviationM: number;
  /** How it is known. */
  readonly known: string;
  readonly partners: readonly { readonly lineKey: string; readonly name: string }[];
}

const KNOWN: Readonly<Record<Knowledge, string>> = {
  "read alone": "This line was read on its own.",
  "told apart": "Worked out from the paths through it and from how lines usually age.",
  "not told apart":
    "The readings give only the sum with other lines of its paths; how it divides is a guess from how lines usually age.",
  "not read": "No reading runs through it: a guess from its row alone.",
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
    change: `${signed(line.changeM * 1000, 1)} ±${(line.deviationM * 1000).toFixed(1)}`,
    changeM: line.changeM,
    deviationM: line.deviationM,
    priorDeviationM: line.priorDeviationM,
    known: KNOWN[line.knowledge],
    partners,
  };
}
