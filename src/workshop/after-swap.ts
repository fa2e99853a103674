/**
 * Whether a swap calls for a full check of every line, and why. It can only find reasons for one: that none is found is no
 * word on whether the wing may fly.
 */
import { cautionFull } from "../diagnosis/caution.ts";
import { plainMm, signedMm, sourceOf, wayOf } from "../diagnosis/wording.ts";
import type { Side, Tab, Wing } from "../plan/index.ts";
import type { Deviations } from "../readings/index.ts";
import { longDate, say } from "../words/index.ts";
import { A_FEW_M, type SwapSheet, type SwapSide, swapChanges } from "./swap.ts";
import { lineName, sayList } from "./wording.ts";

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
        : say("workshop.after.first", {
            names: sayList(damagedLower.map(({ lineKey }) => nameOf(wing, lineKey))),
            count: damagedLower.length,
          }),
    fullCheck,
    conclusion: fullCheck ? say("workshop.after.check") : say("workshop.after.no-check"),
    reasons,
    cautions: cautionFull(),
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
      say("workshop.after.lower.damaged", {
        names: sayList(damaged.map(({ lineKey }) => nameOf(wing, lineKey))),
      }),
      { lineKeys: damaged.map(({ lineKey }) => lineKey) },
    );
  if (going.length === 0) return found;
  if (sheet.tier === "lower")
    add("lower line replaced", "check", say("workshop.after.lower.replaced", { names }), { lineKeys: keys });
  if (sheet.row === "brake")
    add("brake line", "check", say("workshop.after.brake", { names, count: going.length }), {
      lineKeys: keys,
    });
  if (going.length === 1 && sheet.sides.length === 2)
    add("one of a pair", "check", say("workshop.after.alone", { names }), {
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
    const told = { name: sheet.name, by: plainMm(differenceM, 1), way: wayOf(differenceM) };
    if (beyond || Math.abs(differenceM) > A_FEW_M)
      add(
        "pair differs",
        beyond ? "check" : "look",
        beyond
          ? say("workshop.after.pair.beyond", { ...told, limit: plainMm(wing.tolerances.leftRightM) })
          : say("workshop.after.pair.few", told),
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
          say("workshop.after.neighbours", {
            name,
            one: nameOf(wing, one.lineKey),
            oneBy: signedMm(one.meanM, 1),
            other: nameOf(wing, other.lineKey),
            otherBy: signedMm(other.meanM, 1),
          }),
          { lineKeys: [one.lineKey, other.lineKey], valueM: apartM },
        ),
      );
  }
  const landed = chosenLanding(side, chosen);
  if (landed?.differenceM === undefined) {
    found.push(
      reason("landing unknown", "check", say("workshop.after.unknown", { name }), {
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
            ? say("workshop.after.run-out.long", { name, by: plainMm(differenceM, 1) })
            : say("workshop.after.run-out.short", { name, by: plainMm(differenceM, 1) }),
          about,
        ),
      );
    if (landed.reserveM < LEAST_RESERVE_M)
      found.push(
        reason("no reserve", "look", say("workshop.after.reserve", { name }), {
          ...about,
          valueM: landed.reserveM,
        }),
      );
  }
  const fewM = Math.min(leftRightM, pathM);
  if (Math.abs(differenceM) > fewM && !found.some(({ kind }) => kind === "loops run out"))
    found.push(
      reason(
        "landing off",
        "check",
        say("workshop.after.off", {
          name,
          by: plainMm(differenceM, 1),
          way: wayOf(differenceM),
          target: side.target.basis,
        }),
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
  const { pathM, minBrakeFreeTravelM } = wing.tolerances;
  const after = pathsAfter(input, chosen);
  const found: AfterReason[] = [];
  const beyond = after.flatMap((deviationM, tab) =>
    deviationM !== undefined && Math.abs(deviationM) > pathM ? [{ deviationM, tab }] : [],
  );
  const worst = beyond.toSorted((a, b) => Math.abs(b.deviationM) - Math.abs(a.deviationM))[0];
  if (worst !== undefined) {
    const tab = wing.tabs[worst.tab] as Tab;
    found.push(
      reason(
        "paths beyond",
        "check",
        say("workshop.after.paths", {
          count: beyond.length,
          limit: plainMm(pathM),
          source: sourceOf(wing.tolerances),
          tab: tab.id,
          side: tab.side,
          by: signedMm(worst.deviationM, 1),
        }),
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
    if (shortest !== undefined && leftM !== undefined && leftM < minBrakeFreeTravelM) {
      const tab = wing.tabs[shortest.tab] as Tab;
      const text = say("workshop.after.travel", {
        rest: leftM > 0 ? "some" : "none",
        travel: plainMm(leftM),
        tab: tab.id,
        side: tab.side,
        least: plainMm(minBrakeFreeTravelM),
      });
      found.push(reason("brake line", "check", text, { tabKeys: [tab.key], valueM: leftM }));
    }
  }
  return found;
}

function ofReadings({ deviations, checkDate, today, sheets }: AfterInput): AfterReason[] {
  if (sheets.length === 0) return [];
  if (deviations === undefined || deviations.paths.every(({ deviationM }) => deviationM === undefined))
    return [reason("no readings", "check", say("workshop.after.no-readings"))];
  if (checkDate === undefined || today === undefined) return [];
  const days = (dayOf(today) - dayOf(checkDate)) / 86_400_000;
  if (days <= OLD_READINGS_DAYS) return [];
  return [
    reason(
      "old readings",
      "check",
      say("workshop.after.old-readings", { date: longDate(checkDate), years: Math.floor(days / 365.25) }),
    ),
  ];
}

function dayOf(date: string): number {
  const time = Date.parse(`${date}T00:00:00Z`);
  if (Number.isNaN(time)) throw new RangeError(`Got "${date}" as a date; one like 2026-03-14 was expected.`);
  return time;
}
