/** Where a draft's tabs lie on the canopy: ribs and chord fractions, usual ones where none are given. */
import { say } from "../../words/index.ts";
import { ROWS, type Row } from "../model.ts";
import { listed, rowWord } from "../wording.ts";
import type { OpenTab, Say, SayFaults } from "./model.ts";
import { parseNumberList } from "./number-list.ts";
import type { DraftSource } from "./source.ts";

/**
 * Sets the tabs' ribs. Usual where none are given: rows A to D on every second one; the tip outside all others; the brakes on
 * every one up to the outermost. Common practice, no source.
 */
export function setRibs(
  source: DraftSource,
  tabs: readonly OpenTab[],
  faults: SayFaults,
  complain: Say,
  assumed: string[],
): void {
  const lists = new Map<
    Row,
    { readonly ribs: (number | undefined)[]; readonly path: string; readonly places: readonly number[] }
  >();
  (source.ribs ?? []).forEach(({ row, list }, index) => {
    const path = `ribs[${index}].list`;
    const { numbers, faults: found } = parseNumberList(list, { ranges: true });
    faults(path, say("draft.ribs", { row }), found);
    const ribs = numbers.map(({ value, at }) => {
      if (value === undefined || (Number.isInteger(value) && value >= 1 && value <= 200)) return value;
      complain(path, row, say("draft.rib", { row, found: value }), say("draft.rib.fix"), at);
      return undefined;
    });
    lists.set(row, { ribs, path, places: numbers.map(({ at }) => at) });
  });
  const of = (row: Row): readonly OpenTab[] => tabs.filter((tab) => tab.row === row);
  for (const row of ["A", "B", "C", "D"] as const) {
    for (const tab of of(row)) tab.rib = 2 * tab.number;
  }
  const set = (row: Row): void => {
    const given = lists.get(row);
    if (given === undefined) return;
    const there = of(row);
    if (given.ribs.length !== there.length)
      complain(
        given.path,
        row,
        say("draft.ribs.count", { row, found: given.ribs.length, count: there.length }),
        there.length === 0 ? say("draft.ribs.none", { row }) : say("draft.list.fix"),
        given.places[Math.min(there.length, given.places.length - 1)] ?? 0,
      );
    for (const [i, tab] of there.entries()) {
      const rib = given.ribs[i];
      if (rib === undefined) continue;
      tab.rib = rib;
      tab.ribAssumed = false;
    }
  };
  for (const row of ["A", "B", "C", "D"] as const) set(row);
  const outermost = Math.max(0, ...tabs.filter((tab) => tab.rib > 0).map((tab) => tab.rib));
  const tips = of("tip");
  for (const tab of tips) tab.rib = outermost + 1;
  const brakes = of("brake");
  for (const tab of brakes) tab.rib = Math.max(0, outermost - brakes.length) + tab.number;
  set("tip");
  set("brake");
  const guessed = ROWS.filter((row) => of(row).some((tab) => tab.ribAssumed));
  const profile = guessed.filter((row) => row !== "tip" && row !== "brake");
  if (profile.length > 0)
    assumed.push(say("draft.assumed.ribs", { count: profile.length, rows: listed(profile.map(rowWord)) }));
  if (guessed.includes("tip")) assumed.push(say("draft.assumed.tip", { rib: tips[0]?.rib ?? 0 }));
  if (guessed.includes("brake"))
    assumed.push(say("draft.assumed.brake", { from: brakes[0]?.rib ?? 0, to: brakes.at(-1)?.rib ?? 0 }));
}

/** Sets the chord fractions that single tabs have of their own. */
export function setChords(
  source: DraftSource,
  tabs: readonly OpenTab[],
  complain: Say,
  assumed: string[],
): void {
  (source.chords ?? []).forEach(({ row, tabs: fractions }, index) => {
    const there = tabs.filter((tab) => tab.row === row);
    if (fractions.length !== there.length)
      complain(
        `chords[${index}]`,
        row,
        say("draft.chord.count", { row, found: fractions.length, count: there.length }),
        say("draft.list.fix"),
      );
    for (const [i, tab] of there.entries()) tab.chordFraction = fractions[i] ?? undefined;
  });
  const stated = source.canopy?.rowChordFractions ?? {};
  const without = ROWS.filter(
    (row) =>
      row !== "tip" &&
      stated[row] === undefined &&
      tabs.some((tab) => tab.row === row && tab.chordFraction === undefined),
  );
  if (without.length > 0)
    assumed.push(say("draft.assumed.chord", { count: without.length, rows: listed(without.map(rowWord)) }));
  // Several tip tabs on one rib need places of their own.
  const tips = tabs.filter((tab) => tab.row === "tip");
  const crowded = tips.filter(
    (tab) => tab.chordFraction === undefined && tips.some((other) => other !== tab && other.rib === tab.rib),
  );
  for (const tab of crowded) {
    const alike = tips.filter((other) => other.rib === tab.rib);
    tab.chordFraction = Math.round((100 * (alike.indexOf(tab) + 0.5)) / alike.length) / 100;
  }
  if (crowded.length > 0) assumed.push(say("draft.assumed.tip-chord"));
}
