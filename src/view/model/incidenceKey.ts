/** What is said of the bands in the incidence chart, and where it finds room beside or below the chart's title. */
import { say } from "../../words/index.ts";
import type { IncidencePoint } from "./incidenceSeries.ts";

/** Readings and assumptions together, the readings alone, the assumptions alone; and the mark of a band that is cut off. */
export type BandSort = "together" | "readings" | "assumptions";

export interface KeyEntry {
  readonly sort: BandSort | "cut";
  readonly text: string;
}

/** @param cut how many bands go on beyond the axis */
export function keyEntries(points: readonly IncidencePoint[], cut: number): readonly KeyEntry[] {
  const judged = points.some(({ together }) => together !== undefined);
  const early = !judged && points.some(({ assumptions }) => assumptions !== undefined);
  return [
    ...(judged
      ? [
          { sort: "together" as const, text: say("charts.key.together") },
          { sort: "readings" as const, text: say("charts.key.readings") },
        ]
      : []),
    ...(early ? [{ sort: "assumptions" as const, text: say("charts.key.assumptions") }] : []),
    ...(cut > 0 ? [{ sort: "cut" as const, text: say("charts.key.cut", { count: cut }) }] : []),
  ];
}

/** Usual width of a letter at 14 px, swatch and gap beside the words [px]. */
const LETTER = 7;
const BESIDE = 44;

/** Entries one after the other, on the next line where the width is used up: places and how many lines lie below the first. */
export function flowed(
  entries: readonly KeyEntry[],
  from: number,
  width: number,
): { readonly places: readonly { readonly x: number; readonly line: number }[]; readonly below: number } {
  let x = from;
  let line = 0;
  const places = entries.map(({ text }) => {
    const wanted = BESIDE + LETTER * text.length;
    if (x > 0 && x + wanted - 16 > width) {
      x = 0;
      line += 1;
    }
    const place = { x, line };
    x += wanted;
    return place;
  });
  return { places, below: line };
}
