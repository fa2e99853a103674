/** Rules of the tabs on the canopy: one tab a row and rib, rows in order from front to rear. */
import { say } from "../words/index.ts";
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
      say("plan.rows.order", { front, frontAt: fractions[front] ?? 0, rear, rearAt: fractions[rear] ?? 0 }),
      say("plan.rows.order.fix"),
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
        say("plan.tab.crowded", {
          name: called(place, "tab", id),
          rib: item.rib,
          row: item.row,
          other: earlier,
        }),
        item.row === "tip" ? say("plan.tab.crowded.tip") : say("plan.tab.crowded.fix"),
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
        say("plan.tab.order", {
          rib,
          front: front.item.id,
          frontRow: pair[0],
          frontAt: fractions[pair[0]] ?? 0,
          rear: rear.item.id,
          rearRow: pair[1],
          rearAt: fractions[pair[1]] ?? 0,
        }),
        say("plan.tab.order.fix", { id: culprit.item.id }),
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
  const all = beyond.map(({ item }) => say("plan.tab.on-rib", { id: item.id, rib: item.rib }));
  return [
    problem(
      "error",
      `${place.where}.tabs[${first.index}].rib`,
      first.item.id,
      say("plan.tab.beyond", { cells, most, found: listed(all) }),
      say("plan.tab.beyond.fix"),
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
