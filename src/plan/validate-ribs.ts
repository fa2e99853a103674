/** Rules of the tabs on the canopy: one tab a row and rib, rows in order from front to rear. */
import type { Cascade, Placed } from "./cascade.ts";
import type { Problem, Row } from "./model.ts";
import type { PlanFile, PlanTab } from "./schema.ts";
import { called, type HalfPlace, listed, problem } from "./wording.ts";

/** Rows from the leading edge to the trailing edge; a tip tab may lie anywhere. */
const FRONT_TO_REAR: readonly Row[] = ["A", "B", "C", "D", "brake"];

type Fractions = Readonly<Partial<Record<Row, number | undefined>>>;

function rowFractions(file: PlanFile): Fractions {
  return file.canopy?.rowChordFractions ?? {};
}

/** First pair of rows that stand in the wrong order: the front one isn't in front. */
function misplaced(fractions: Fractions): readonly [Row, Row] | undefined {
  let front: Row | undefined;
  for (const row of FRONT_TO_REAR) {
    const here = fractions[row];
    if (here === undefined) continue;
    if (front !== undefined && (fractions[front] ?? 0) >= here) return [front, row];
    front = row;
  }
  return undefined;
}

/** Problems of the canopy's chord fractions for whole rows. */
export function rowFractionProblems(file: PlanFile): readonly Problem[] {
  const fractions = rowFractions(file);
  const pair = misplaced(fractions);
  if (pair === undefined) return [];
  const [front, rear] = pair;
  return [
    problem(
      "error",
      `canopy.rowChordFractions.${rear}`,
      rear,
      `Row ${front} lies at ${fractions[front]} of the chord and row ${rear} at ${fractions[rear]}; ${rear} was expected behind ${front}.`,
      "Correct the fractions: 0 is the leading edge, 1 the trailing edge.",
    ),
  ];
}

function crowded(place: HalfPlace, cascade: Cascade): readonly Problem[] {
  const first = new Map<string, string>();
  const found: Problem[] = [];
  for (const [id, { item, index }] of cascade.tabs) {
    // The tip line may hold one rib at several places along its chord.
    const spot = JSON.stringify([item.rib, item.row, item.row === "tip" ? item.chordFraction : undefined]);
    const earlier = first.get(spot);
    if (earlier === undefined) {
      first.set(spot, id);
      continue;
    }
    found.push(
      problem(
        "error",
        `${place.where}.tabs[${index}].rib`,
        id,
        `${called(place, "tab", id)} is on rib ${item.rib} in row ${item.row}, where tab ${earlier} is already; one tab was expected.`,
        item.row === "tip"
          ? "Correct the rib, or give both their chordFraction."
          : "Correct the rib or the row of one of them.",
      ),
    );
  }
  return found;
}

function disordered(place: HalfPlace, cascade: Cascade, file: PlanFile): readonly Problem[] {
  const byRow = rowFractions(file);
  const rowsAreOrdered = misplaced(byRow) === undefined;
  const ribs = new Map<number, Placed<PlanTab>[]>();
  for (const placed of cascade.tabs.values()) {
    ribs.set(placed.item.rib, [...(ribs.get(placed.item.rib) ?? []), placed]);
  }
  const found: Problem[] = [];
  for (const [rib, tabs] of ribs) {
    const at = (row: Row): Placed<PlanTab> | undefined => tabs.find(({ item }) => item.row === row);
    const fractions: Fractions = Object.fromEntries(
      FRONT_TO_REAR.map((row) => {
        const tab = at(row)?.item;
        return [row, tab === undefined ? undefined : (tab.chordFraction ?? byRow[row])];
      }),
    );
    const pair = misplaced(fractions);
    if (pair === undefined) continue;
    const [front, rear] = [at(pair[0]), at(pair[1])];
    if (front === undefined || rear === undefined) continue;
    const own = front.item.chordFraction !== undefined || rear.item.chordFraction !== undefined;
    if (!own && !rowsAreOrdered) continue;
    const culprit = rear.item.chordFraction === undefined ? front : rear;
    found.push(
      problem(
        "error",
        `${place.where}.tabs[${culprit.index}].chordFraction`,
        culprit.item.id,
        `On rib ${rib}, tab ${front.item.id} of row ${pair[0]} lies at ${fractions[pair[0]]} of the chord and tab ${rear.item.id} of row ${pair[1]} at ${fractions[pair[1]]}; ${pair[1]} was expected behind ${pair[0]}.`,
        `Correct chordFraction of tab ${culprit.item.id}, or its rib.`,
      ),
    );
  }
  return found;
}

function beyondTheTip(place: HalfPlace, cascade: Cascade, file: PlanFile): readonly Problem[] {
  const cells = file.canopy?.cells;
  if (cells === undefined) return [];
  // cells + 1 ribs; with an even number of cells the middle one belongs to both sides.
  const most = Math.floor(cells / 2) + 1;
  const beyond = [...cascade.tabs.values()].filter(({ item }) => item.rib > most);
  const first = beyond[0];
  if (first === undefined) return [];
  const all = beyond.map(({ item }) => `${item.id} on rib ${item.rib}`);
  return [
    problem(
      "error",
      `${place.where}.tabs[${first.index}].rib`,
      first.item.id,
      `A wing of ${cells} cells has ${most} ribs a side, counted from the middle; found beyond: ${listed(all)}.`,
      "Count ribs outwards from the middle on each side, or correct the number of cells.",
    ),
  ];
}

/** All problems of one half's tabs on the canopy. */
export function ribProblems(place: HalfPlace, cascade: Cascade, file: PlanFile): readonly Problem[] {
  return [
    ...crowded(place, cascade),
    ...disordered(place, cascade, file),
    ...beyondTheTip(place, cascade, file),
  ];
}
