/**
 * From a name as somebody wrote it to a reading's target, or to what is wrong with it; and whether a length can
 * be that target's at all.
 */

import type { Side } from "../plan/index.ts";
import { say, typedLength } from "../words/index.ts";
import { type Conditions, expectedReadingM } from "./corrections.ts";
import { targetKey, type WingLookup } from "./lookup.ts";
import type { Reading, Target } from "./model.ts";
import { matchName, type NameLookup, type NameMatch } from "./names.ts";

/** What a column or key calls its names; `name` is a tab, or else a line. */
export type NameKind = Target["kind"] | "name";

export type Resolved =
  | { readonly ok: true; readonly target: Target }
  | { readonly ok: false; readonly message: string; readonly remedy: string };

const OTHER: Record<Target["kind"], Target["kind"]> = {
  tab: "line",
  line: "tab",
};
const ACROSS: Record<Side, Side> = { left: "right", right: "left" };

/**
 * The target that `spelling` means on `side`: a tab, a line, or (`name`) a tab first and a line if no tab has
 * that name. A line whose length the plan leaves to its totals is refused: there is nothing to compare it with.
 */
export function resolveTarget(lookup: NameLookup, kind: NameKind, spelling: string, side: Side): Resolved {
  const kinds: readonly Target["kind"][] = kind === "name" ? ["tab", "line"] : [kind];
  for (const each of kinds) {
    const match = matchName(lookup, each, side, spelling);
    if (match.found === "one") {
      const target: Target = { kind: each, id: match.id, side };
      if (each === "line" && lookup.lines.get(targetKey(lookup, target) ?? "")?.lengthAssumed) {
        return {
          ok: false,
          message: say("readings.line-no-length", { id: match.id }),
          remedy: say("readings.line-no-length.fix", { id: match.id }),
        };
      }
      return { ok: true, target };
    }
    if (match.found === "several") {
      return {
        ok: false,
        message: say("readings.ambiguous", { found: spelling, ids: listed(match.ids), kind: each }),
        remedy: say("readings.ambiguous.fix"),
      };
    }
  }
  return unknownName(lookup, kind, spelling, side);
}

function unknownName(lookup: NameLookup, kind: NameKind, spelling: string, side: Side): Resolved {
  const known = (each: Target["kind"], where: Side): NameMatch => matchName(lookup, each, where, spelling);
  const what = { found: spelling, kind, side };
  const across = known(kind === "name" ? "tab" : kind, ACROSS[side]);
  if (across.found === "one") {
    return {
      ok: false,
      message: say("readings.unknown.across", what),
      remedy: say("readings.unknown.across.fix"),
    };
  }
  if (kind !== "name" && known(OTHER[kind], side).found === "one") {
    const names = { kind, other: OTHER[kind] };
    return {
      ok: false,
      message: say("readings.unknown.kind", what),
      remedy: say("readings.unknown.kind.fix", names),
    };
  }
  const parts = kind === "line" ? lookup.wing.lines : lookup.wing.tabs;
  const ids = parts.filter((part) => part.side === side).map((part) => part.id);
  return {
    ok: false,
    message: say("readings.unknown", { ...what, ids: listed(ids) }),
    remedy: say("readings.unknown.fix"),
  };
}

function listed(ids: readonly string[]): string {
  return ids.length <= 8
    ? ids.join(", ") || say("readings.no-ids")
    : `${ids.slice(0, 7).join(", ")} … ${ids.at(-1)}`;
}

/**
 * No line is off by more than a quarter of its length: such a reading is a slip of the unit, the name or a
 * digit.
 */
const ABSURD_SHARE = 0.25;
/**
 * On short lines that would be too strict for, say, an eye read with the line; but a slip of ten must never
 * pass.
 */
const ABSURD_LEAST_M = 0.1;
const ABSURD_LARGEST_SHARE = 0.5;

/**
 * Whether a reading can be of something that should read `expectedM`, on an instrument that shows `zeroM` at
 * zero length [m].
 */
export function isPlausible(readingM: number, expectedM: number, zeroM: number): boolean {
  const lengthM = expectedM - zeroM;
  const allowedM = Math.max(ABSURD_SHARE * lengthM, Math.min(ABSURD_LEAST_M, ABSURD_LARGEST_SHARE * lengthM));
  return Math.abs(readingM - expectedM) <= allowedM;
}

/** Says why a length can't be the target's, or undefined where it can. `lengthM` is as read [m]. */
export function absurdity(
  lookup: WingLookup,
  target: Target,
  lengthM: number,
  conditions: Conditions,
): { readonly message: string; readonly remedy: string } | undefined {
  const expectedM = expectedReadingM(lookup, target, conditions);
  const fits = (readingM: number, shouldBeM: number): boolean =>
    isPlausible(readingM, shouldBeM, conditions.instrumentZeroM);
  if (expectedM === undefined || fits(lengthM, expectedM)) return undefined;
  const message = say("readings.absurd", {
    found: millimetres(lengthM),
    kind: target.kind,
    id: target.id,
    side: target.side,
    expected: millimetres(expectedM),
  });
  const other: Target = { ...target, kind: OTHER[target.kind] };
  const otherM = expectedReadingM(lookup, other, conditions);
  if (otherM !== undefined && fits(lengthM, otherM)) {
    return {
      message,
      remedy: say("readings.absurd.other", { kind: other.kind, length: millimetres(otherM) }),
    };
  }
  const factor = [10, 100, 1000].find((by) => fits(lengthM * by, expectedM) || fits(lengthM / by, expectedM));
  return {
    message,
    remedy: factor
      ? say("readings.absurd.unit", { factor, way: lengthM < expectedM ? "larger" : "smaller" })
      : say("readings.absurd.fix"),
  };
}

/** A length for a message: millimetres to a tenth. */
export function millimetres(lengthM: number): string {
  return Number.isFinite(lengthM) ? typedLength(lengthM) : String(lengthM);
}

/** Readings of the same target become one, its values repeats in the order given; notes are joined. */
export function mergeRepeats(readings: readonly Reading[]): readonly Reading[] {
  const merged = new Map<string, Reading>();
  for (const reading of readings) {
    const key = `${reading.target.kind} ${reading.target.side}:${reading.target.id}`;
    const before = merged.get(key);
    if (before === undefined) {
      merged.set(key, reading);
      continue;
    }
    const notes = [before.note, reading.note].filter((note) => note !== undefined);
    merged.set(key, {
      target: before.target,
      valuesM: [...before.valuesM, ...reading.valuesM],
      note: notes.length === 0 ? undefined : [...new Set(notes)].join("; "),
    });
  }
  return [...merged.values()];
}
