/** The straps, maillons and brakes of a draft, with the usual taken for what it leaves out. */
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
  const say = (path: string, subject: string | undefined, message: string, remedy: string): void => {
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
    say(
      path,
      line.row,
      `Row ${line.row} hangs on maillon "${line.anchor}"; the draft's maillons are ${listed(maillonIds)}.`,
      `Say what it hangs on, or add the riser or maillon.${didYouMean(nearest(line.anchor, maillonIds))}`,
    );
  }
  const riserIds =
    risersGiven.length > 0
      ? risersGiven.map((riser) => riser.id)
      : [...new Set(maillons.map((m) => m.riser))];
  (source.maillons ?? []).forEach((maillon, index) => {
    if (riserIds.includes(maillon.riser)) return;
    say(
      `maillons[${index}]`,
      maillon.id,
      `Maillon ${maillon.id} sits on riser "${maillon.riser}"; the draft's risers are ${listed(riserIds)}.`,
      `Correct it, or add the riser.${didYouMean(nearest(maillon.riser, riserIds))}`,
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
      assumed.push(`Straps of ${listed(lacking)}: ${USUAL_STRAP_MM} mm, as is usual; no total begins there.`);
    else
      say(
        "risers",
        lacking[0],
        `The length of riser ${listed(lacking)} is missing; totals begin at the riser's base.`,
        'Enter it as "risers: A 480, B 480", or "from: maillon" if totals begin there.',
      );
  }
  return { risers, maillons, brakes: brakesOf(source, lines, riserIds, say, assumed), problems, assumed };
}

function brakesOf(
  source: DraftSource,
  lines: readonly DraftLine[],
  riserIds: readonly string[],
  say: (path: string, subject: string | undefined, message: string, remedy: string) => void,
  assumed: string[],
): SparsePlanFile["brakes"] {
  const given = source.brakes;
  if (given === undefined && !lines.some((line) => line.row === "brake")) return undefined;
  const pulleyRiser = given?.pulleyRiser ?? riserIds.at(-1) ?? "";
  if (given?.pulleyRiser !== undefined && !riserIds.includes(given.pulleyRiser))
    say(
      "brakes",
      given.pulleyRiser,
      `The pulley sits on riser "${given.pulleyRiser}"; the draft's risers are ${listed(riserIds)}.`,
      `Name the riser that carries the pulley.${didYouMean(nearest(given.pulleyRiser, riserIds))}`,
    );
  const usual: string[] = [];
  if (given?.pulleyRiser === undefined) usual.push(`on riser ${pulleyRiser}`);
  if (given?.pulleyHeightMm === undefined) usual.push(`${USUAL_PULLEY_MM} mm up`);
  if (usual.length > 0) assumed.push(`Brake pulley ${usual.join(", ")}.`);
  if (given?.freeTravelMm === undefined)
    assumed.push(`Free travel of the brakes ${USUAL_FREE_TRAVEL_MM} mm.`);
  return {
    pulleyRiser,
    pulleyHeightMm: given?.pulleyHeightMm ?? USUAL_PULLEY_MM,
    freeTravelMm: given?.freeTravelMm ?? USUAL_FREE_TRAVEL_MM,
  };
}
