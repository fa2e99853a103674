/** The straps, maillons and brakes of a draft, with the usual taken for what it leaves out. */
import { say } from "../../words/index.ts";
import type { Problem } from "../model.ts";
import { PULLEY, type SparsePlanFile } from "../schema.ts";
import { didYouMean, listed, nearest, problem } from "../wording.ts";
import type { DraftLine, Rig, Where } from "./model.ts";
import type { DraftSource } from "./source.ts";

/** Strap where totals begin at the maillon and none is given [mm]: within the usual 450 to 520. Common practice, no source. */
const USUAL_STRAP_MM = 480;
/** Pulley up its strap, and pull before the trailing edge moves [mm]. Common practice, no source. */
const USUAL_PULLEY_MM = 200;
const USUAL_FREE_TRAVEL_MM = 60;

/** What the lines hang on; a problem for each thing that can't be assumed. Never throws. */
export function rigOf(source: DraftSource, lines: readonly DraftLine[], where: Where): Rig {
  const problems: Problem[] = [];
  const assumed: string[] = [];
  const complain = (path: string, subject: string | undefined, message: string, remedy: string): void => {
    problems.push(problem("error", where(path), subject, message, remedy));
  };
  const anchors = [...new Set(lines.filter((line) => line.anchor !== PULLEY).map((line) => line.anchor))];
  const risersGiven = source.risers ?? [];
  const maillons =
    source.maillons !== undefined && source.maillons.length > 0
      ? source.maillons
      : (risersGiven.length > 0 ? risersGiven.map((riser) => riser.id) : anchors).map((id) => ({
          id,
          riser: id,
        }));
  const maillonIds = maillons.map((maillon) => maillon.id);
  for (const line of lines) {
    if (line.below !== undefined || line.anchor === PULLEY || maillonIds.includes(line.anchor)) continue;
    const path = `rows[${line.entry}]${source.rows[line.entry]?.on === undefined ? ".cascade" : ".on"}`;
    const place = where(path);
    if (problems.some((each) => each.where === place)) continue;
    complain(
      path,
      line.row,
      say("draft.row.maillon", { row: line.row, maillon: line.anchor, known: listed(maillonIds) }),
      say("draft.row.maillon.fix", { guess: didYouMean(nearest(line.anchor, maillonIds)) }),
    );
  }
  const riserIds =
    risersGiven.length > 0
      ? risersGiven.map((riser) => riser.id)
      : [...new Set(maillons.map((m) => m.riser))];
  (source.maillons ?? []).forEach((maillon, index) => {
    if (riserIds.includes(maillon.riser)) return;
    complain(
      `maillons[${index}]`,
      maillon.id,
      say("draft.maillon.riser", { id: maillon.id, riser: maillon.riser, known: listed(riserIds) }),
      say("draft.maillon.riser.fix", { guess: didYouMean(nearest(maillon.riser, riserIds)) }),
    );
  });
  const lacking: string[] = [];
  const risers = riserIds.map((id) => {
    const given = risersGiven.find((riser) => riser.id === id)?.lengthMm;
    if (given === undefined) lacking.push(id);
    return { id, lengthMm: given ?? USUAL_STRAP_MM };
  });
  if (lacking.length > 0) {
    if (source.reference?.from === "maillon")
      assumed.push(say("draft.assumed.straps", { risers: listed(lacking), length: USUAL_STRAP_MM }));
    else
      complain(
        "risers",
        lacking[0],
        say("draft.riser.length", { risers: listed(lacking) }),
        say("draft.riser.length.fix"),
      );
  }
  return {
    risers,
    maillons,
    brakes: brakesOf(source, lines, riserIds, complain, assumed),
    problems,
    assumed,
  };
}

function brakesOf(
  source: DraftSource,
  lines: readonly DraftLine[],
  riserIds: readonly string[],
  complain: (path: string, subject: string | undefined, message: string, remedy: string) => void,
  assumed: string[],
): SparsePlanFile["brakes"] {
  const given = source.brakes;
  if (given === undefined && !lines.some((line) => line.row === "brake")) return undefined;
  const pulleyRiser = given?.pulleyRiser ?? riserIds.at(-1) ?? "";
  if (given?.pulleyRiser !== undefined && !riserIds.includes(given.pulleyRiser))
    complain(
      "brakes",
      given.pulleyRiser,
      say("draft.pulley", { riser: given.pulleyRiser, known: listed(riserIds) }),
      say("draft.pulley.fix", { guess: didYouMean(nearest(given.pulleyRiser, riserIds)) }),
    );
  const usual = [
    given?.pulleyRiser === undefined ? "riser" : "",
    given?.pulleyHeightMm === undefined ? "height" : "",
  ].filter((each) => each !== "");
  if (usual.length > 0)
    assumed.push(
      say("draft.assumed.pulley", {
        what: usual.length === 2 ? "both" : (usual[0] ?? ""),
        riser: pulleyRiser,
        height: USUAL_PULLEY_MM,
      }),
    );
  if (given?.freeTravelMm === undefined)
    assumed.push(say("draft.assumed.travel", { length: USUAL_FREE_TRAVEL_MM }));
  return {
    pulleyRiser,
    pulleyHeightMm: given?.pulleyHeightMm ?? USUAL_PULLEY_MM,
    freeTravelMm: given?.freeTravelMm ?? USUAL_FREE_TRAVEL_MM,
  };
}
