/**
 * Whether a swap calls for a full check of every line, and why. It can only find reasons for one: that none is found is no
 * word on whether the wing may fly.
 */
import { CAUTION_FULL } from "../diagnosis/caution.ts";
import { plainMm, shortOrLong, signedMm } from "../diagnosis/wording.ts";
import type { Side, Wing } from "../plan/index.ts";
import type { Deviations } from "../readings/index.ts";
import { A_FEW_M, type SwapSheet, type SwapSide, swapChanges } from "./swap.ts";
import { sayTarget } from "./swap-neighbours.ts";
import { lineName, sayList } from "./trace.ts";

/** Readings older than this don't tell how the wing is now [days]: the usual two years. Common practice, no source. */
export const OLD_READINGS_DAYS = 730;

/** Least take-up that counts as something left to take out [m]. Common practice, no source. */
export const LEAST_RESERVE_M = 0.003;

export interface AfterReason {
  readonly kind:
    | "lower line damaged"
    | "lower line replaced"
    | "brake line"
    | "one of a pair"
    | "pair differs"
    | "loops run out"
    | "no reserve"
    | "neighbours disagree"
    | "landing off"
    | "landing unknown"
    | "paths beyond"
    | "no readings"
    | "old readings";
  /** "check": calls for a full check; "look": worth looking at when it's measured. */
  readonly weight: "check" | "look";
  readonly text: string;
  readonly lineKeys: readonly string[];
  readonly tabKeys: readonly string[];
  /** The figure that it's about, where there is one [m]. */
  readonly valueM: number | undefined;
}

export interface AfterSwap {
  /** What comes before all else; undefined where no lower line is damaged. */
  readonly first: string | undefined;
  /** Whether any reason calls for a full check. */
  readonly fullCheck: boolean;
  readonly conclusion: string;
  /** Those that call for a check first. */
  readonly reasons: readonly AfterReason[];
  readonly cautions: readonly string[];
}

export interface AfterInput {
  readonly wing: Wing;
  readonly sheets: readonly SwapSheet[];
  /** The readings that the sheets are made from. */
  readonly deviations: Deviations | undefined;
  /** ISO date of those readings. */
  readonly checkDate?: string | undefined;
  /** ISO date; without it the readings' age isn't judged. */
  readonly today?: string | undefined;
  /** Line key → index of the landing that was chosen; the suggested one where left out. */
  readonly chosen?: ReadonlyMap<string, number> | undefined;
}

/**
 * Reasons for a full check after a swap: the sheets' landings held against the wing's tolerances, and what isn't known.
 *
 * @throws RangeError for a date that isn't one, or a landing that there isn't
 */
export function checkAfter(input: AfterInput): AfterSwap {
  const { wing, sheets, chosen = new Map<string, number>() } = input;
  const reasons = [
    ...sheets.flatMap((sheet) => ofSheet(wing, sheet, chosen)),
    ...ofPaths(input, chosen),
    ...ofReadings(input),
  ].sort((a, b) => Number(a.weight === "look") - Number(b.weight === "look"));
  const damagedLower = sheets
    .filter((sheet) => sheet.tier === "lower")
    .flatMap((sheet) => sheet.sides)
    .filter(({ damaged }) => damaged);
  const fullCheck = reasons.some(({ weight }) => weight === "check");
  return {
    first:
      damagedLower.length === 0
        ? undefined
        : `${sayList(damagedLower.map(({ lineKey }) => nameOf(wing, lineKey)))} ${damagedLower.length === 1 ? "is a lower line and is" : "are lower lines and are"} damaged: the wing isn't to be flown until ${damagedLower.length === 1 ? "it has" : "they have"} been replaced and the wing checked.`,
    fullCheck,
    conclusion: fullCheck
      ? "Measure every line under load, both sides and the brakes, before anything else is decided."
      : "No reason for a full check was found in what is known here. That is no clearance to fly: measure the paths above the new lines, inflate on the ground, and let a qualified inspector decide.",
    reasons,
    cautions: CAUTION_FULL,
  };
}

function nameOf(wing: Wing, lineKey: string): string {
  const line = wing.lines.find(({ key }) => key === lineKey);
  return line === undefined ? lineKey : lineName(line);
}

function reason(
  kind: AfterReason["kind"],
  weight: AfterReason["weight"],
  text: string,
  about: Partial<Pick<AfterReason, "lineKeys" | "tabKeys" | "valueM">> = {},
): AfterReason {
  return { kind, weight, text, lineKeys: [], tabKeys: [], valueM: undefined, ...about };
}

function ofSheet(wing: Wing, sheet: SwapSheet, chosen: ReadonlyMap<string, number>): AfterReason[] {
  const going = sheet.sides.filter(({ replaced }) => replaced);
  const keys = going.map(({ lineKey }) => lineKey);
  const names = sayList(keys.map((key) => nameOf(wing, key)));
  const found: AfterReason[] = [];
  const add = (...made: Parameters<typeof reason>): void => {
    found.push(reason(...made));
  };
  const damaged = sheet.sides.filter((side) => side.damaged);
  if (sheet.tier === "lower" && damaged.length > 0)
    add(
      "lower line damaged",
      "check",
      `${sayList(damaged.map(({ lineKey }) => nameOf(wing, lineKey)))}: a damaged lower line takes the wing out of service.`,
      { lineKeys: damaged.map(({ lineKey }) => lineKey) },
    );
  if (going.length === 0) return found;
  if (sheet.tier === "lower")
    add(
      "lower line replaced",
      "check",
      `A lower line was replaced (${names}): all that hangs on it has moved, and the trim with it.`,
      { lineKeys: keys },
    );
  if (sheet.row === "brake")
    add(
      "brake line",
      "check",
      `${names} ${going.length === 1 ? "belongs" : "belong"} to the brakes: check the free travel of both sides before anything else.`,
      { lineKeys: keys },
    );
  if (going.length === 1 && sheet.sides.length === 2)
    add("one of a pair", "check", `Only ${names} was replaced, not its twin: left and right may differ.`, {
      lineKeys: keys,
    });

  const meanOf = (side: Side): number | undefined => {
    const one = sheet.sides.find((each) => each.side === side);
    return one?.replaced ? chosenLanding(one, chosen)?.meanM : one?.nowM;
  };
  const [left, right] = [meanOf("left"), meanOf("right")];
  if (left !== undefined && right !== undefined) {
    const differenceM = left - right;
    const beyond = Math.abs(differenceM) > wing.tolerances.leftRightM;
    if (beyond || Math.abs(differenceM) > A_FEW_M)
      add(
        "pair differs",
        beyond ? "check" : "look",
        `The paths above ${sheet.name} will be ${plainMm(differenceM, 1)} ${shortOrLong(differenceM)} on the left against the right: ${
          beyond
            ? `beyond the ${plainMm(wing.tolerances.leftRightM)} set for left against right`
            : "more than a few millimetres"
        }.`,
        { lineKeys: sheet.sides.map(({ lineKey }) => lineKey), valueM: differenceM },
      );
  }
  for (const side of going) found.push(...ofSide(wing, side, sheet.onMaillon, chosen));
  return found;
}

function ofSide(
  wing: Wing,
  side: SwapSide,
  onMaillon: boolean,
  chosen: ReadonlyMap<string, number>,
): AfterReason[] {
  const found: AfterReason[] = [];
  const name = nameOf(wing, side.lineKey);
  const { leftRightM, pathM } = wing.tolerances;
  const beside = side.neighbours.filter(({ place, meanM }) => place !== "twin" && meanM !== undefined);
  const [one, other] = beside;
  if (one?.meanM !== undefined && other?.meanM !== undefined) {
    const apartM = one.meanM - other.meanM;
    if (Math.abs(apartM) > leftRightM)
      found.push(
        reason(
          "neighbours disagree",
          "check",
          `The lines beside ${name} disagree: ${nameOf(wing, one.lineKey)} is at ${signedMm(one.meanM, 1)}, ${nameOf(wing, other.lineKey)} at ${signedMm(other.meanM, 1)}. It can't land with both.`,
          { lineKeys: [one.lineKey, other.lineKey], valueM: apartM },
        ),
      );
  }
  const landed = chosenLanding(side, chosen);
  if (landed?.differenceM === undefined) {
    found.push(
      reason("landing unknown", "check", `Where the paths above ${name} come to isn't known: measure them.`, {
        lineKeys: [side.lineKey],
      }),
    );
    return found;
  }
  const { differenceM } = landed;
  const about = { lineKeys: [side.lineKey], valueM: differenceM };
  if (onMaillon) {
    const allowed = side.landings.filter((each) => each.allowed);
    const ends = [allowed[0], allowed.at(-1)];
    if (
      ends.includes(landed) &&
      Math.abs(differenceM) > leftRightM &&
      (landed === ends[0] ? differenceM < 0 : differenceM > 0)
    )
      found.push(
        reason(
          "loops run out",
          "check",
          differenceM > 0
            ? `${name} stays ${plainMm(differenceM, 1)} long even with the largest loop that may be tied.`
            : `${name} stays ${plainMm(differenceM, 1)} short even without a loop: it can't be let out further.`,
          about,
        ),
      );
    if (landed.reserveM < LEAST_RESERVE_M)
      found.push(
        reason(
          "no reserve",
          "look",
          `${name} has no loop left to take out: when the new line shrinks, it can't be let out. Look at it again early.`,
          { ...about, valueM: landed.reserveM },
        ),
      );
  }
  const fewM = Math.min(leftRightM, pathM);
  if (Math.abs(differenceM) > fewM && !found.some(({ kind }) => kind === "loops run out"))
    found.push(
      reason(
        "landing off",
        "check",
        `The paths above ${name} land ${plainMm(differenceM, 1)} ${shortOrLong(differenceM)} against ${sayTarget(side.target)}.`,
        about,
      ),
    );
  return found;
}

function chosenLanding(side: SwapSide, chosen: ReadonlyMap<string, number>) {
  const at = chosen.get(side.lineKey) ?? side.suggested;
  return at === undefined ? undefined : side.landings[at];
}

/**
 * Deviations of all paths once the new lines hang, in the wing's order; undefined where not read, or where a replaced line
 * below lands nobody knows where [m].
 */
export function pathsAfter(
  { wing, sheets, deviations }: Pick<AfterInput, "wing" | "sheets" | "deviations">,
  chosen: ReadonlyMap<string, number> = new Map(),
): readonly (number | undefined)[] {
  const changes = swapChanges(sheets, chosen);
  const replaced = new Set(
    sheets.flatMap(({ sides }) => sides.filter((side) => side.replaced).map(({ lineKey }) => lineKey)),
  );
  return wing.paths.map(({ lineKeys }, tab) => {
    let deviationM = deviations?.paths[tab]?.deviationM;
    for (const key of lineKeys) {
      const change = changes.get(key);
      if (replaced.has(key) && change === undefined) return undefined;
      if (deviationM !== undefined) deviationM += change ?? 0;
    }
    return deviationM;
  });
}

function ofPaths(input: AfterInput, chosen: ReadonlyMap<string, number>): AfterReason[] {
  const { wing } = input;
  const { pathM, minBrakeFreeTravelM, source } = wing.tolerances;
  const after = pathsAfter(input, chosen);
  const found: AfterReason[] = [];
  const beyond = after.flatMap((deviationM, tab) =>
    deviationM !== undefined && Math.abs(deviationM) > pathM ? [{ deviationM, tab }] : [],
  );
  const worst = beyond.toSorted((a, b) => Math.abs(b.deviationM) - Math.abs(a.deviationM))[0];
  if (worst !== undefined) {
    const tab = wing.tabs[worst.tab];
    found.push(
      reason(
        "paths beyond",
        "check",
        `${beyond.length} ${beyond.length === 1 ? "path is" : "paths are"} beyond ±${plainMm(pathM)} (${source}) with the new lines in; the worst is tab ${tab?.id} ${tab?.side} with ${signedMm(worst.deviationM, 1)}.`,
        { tabKeys: beyond.map((each) => wing.tabs[each.tab]?.key as string), valueM: worst.deviationM },
      ),
    );
  }
  if (wing.brakes !== undefined) {
    const brakes = after.flatMap((deviationM, tab) =>
      wing.paths[tab]?.row === "brake" && deviationM !== undefined ? [{ deviationM, tab }] : [],
    );
    const shortest = brakes.toSorted((a, b) => a.deviationM - b.deviationM)[0];
    const leftM = shortest === undefined ? undefined : wing.brakes.freeTravelM + shortest.deviationM;
    if (shortest !== undefined && leftM !== undefined && leftM < minBrakeFreeTravelM)
      found.push(
        reason(
          "brake line",
          "check",
          `The brakes have ${leftM > 0 ? `only ${plainMm(leftM)}` : "nothing"} left of their free travel at tab ${wing.tabs[shortest.tab]?.id} ${wing.tabs[shortest.tab]?.side}; ${plainMm(minBrakeFreeTravelM)} is the least that is set.`,
          { tabKeys: [wing.tabs[shortest.tab]?.key as string], valueM: leftM },
        ),
      );
  }
  return found;
}

function ofReadings({ deviations, checkDate, today, sheets }: AfterInput): AfterReason[] {
  if (sheets.length === 0) return [];
  if (deviations === undefined || deviations.paths.every(({ deviationM }) => deviationM === undefined))
    return [
      reason(
        "no readings",
        "check",
        "There are no readings of this wing: how its other lines are isn't known.",
      ),
    ];
  if (checkDate === undefined || today === undefined) return [];
  const days = (dayOf(today) - dayOf(checkDate)) / 86_400_000;
  if (days <= OLD_READINGS_DAYS) return [];
  return [
    reason(
      "old readings",
      "check",
      `The readings are of ${checkDate}, ${Math.floor(days / 365.25)} years old: they don't tell how the lines are now.`,
    ),
  ];
}

function dayOf(date: string): number {
  const time = Date.parse(`${date}T00:00:00Z`);
  if (Number.isNaN(time)) throw new RangeError(`Got "${date}" as a date; one like 2026-03-14 was expected.`);
  return time;
}
