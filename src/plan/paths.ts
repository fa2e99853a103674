/** Paths: the chain of members from the measuring datum to each tab, and its length. */
import type { Datum, Line, Maillon, Path, Riser, Tab, Wing } from "./model.ts";

/** Lines by their key. */
export function linesByKey(wing: Pick<Wing, "lines">): ReadonlyMap<string, Line> {
  return new Map(wing.lines.map((line) => [line.key, line]));
}

/**
 * The lines from the lowest one up to the one given, following what each hangs on.
 * Throws for a key that isn't in `lines` and for lines that hang on each other in a circle: a checked plan has
 * neither.
 */
export function chainTo(lineKey: string, lines: ReadonlyMap<string, Line>): readonly Line[] {
  const chain: Line[] = [];
  let key: string | undefined = lineKey;
  while (key !== undefined) {
    const line = lines.get(key);
    if (line === undefined) throw new Error(`no line "${key}" in the wing`);
    if (chain.includes(line)) throw new Error(`line "${key}" hangs on itself, through the lines above it`);
    chain.push(line);
    key = line.hangsOn.kind === "line" ? line.hangsOn.lineKey : undefined;
  }
  return chain.reverse();
}

/**
 * Length of a path [m]: the sum of its members' lengths less the take-up of the lowest line's loop, plus the
 * riser strap where the total begins at the riser's base.
 *
 * @param chain the path's lines, lowest first
 * @param strapM riser strap to add [m]; 0 from the maillon, and always 0 for a brake
 * @param lengthM length of a line [m]; the specified one by default, so that other lengths can be tried
 */
export function pathLengthM(
  chain: readonly Line[],
  strapM = 0,
  lengthM: (line: Line) => number = (line) => line.lengthM,
): number {
  const members = chain.reduce((sum, line) => sum + lengthM(line), 0);
  return strapM + members - (chain[0]?.loopTakeUpM ?? 0);
}

/**
 * Riser strap that counts in a path's total [m]: the strap's length if totals begin at the riser's base, 0 from
 * the maillon and for a brake, whose path begins at the pulley.
 */
export function strapLengthM(riserId: string | undefined, from: Datum, risers: readonly Riser[]): number {
  if (from === "maillon" || riserId === undefined) return 0;
  const riser = risers.find((one) => one.id === riserId);
  if (riser === undefined) throw new Error(`no riser "${riserId}" in the wing`);
  return riser.lengthM;
}

/** One path for every tab, in the tabs' order. Throws where a chain doesn't end at a known maillon or pulley. */
export function buildPaths(
  lines: readonly Line[],
  tabs: readonly Tab[],
  maillons: readonly Maillon[],
  risers: readonly Riser[],
  from: Datum,
): readonly Path[] {
  const byKey = linesByKey({ lines });
  const riserOf = new Map(maillons.map((maillon) => [maillon.id, maillon.riserId]));
  return tabs.map((tab): Path => {
    const chain = chainTo(tab.lineKey, byKey);
    const anchor = chain[0]?.hangsOn;
    const maillonId = anchor?.kind === "maillon" ? anchor.maillonId : undefined;
    const riserId = maillonId === undefined ? undefined : riserOf.get(maillonId);
    if (maillonId !== undefined && riserId === undefined)
      throw new Error(`no maillon "${maillonId}" in the wing`);
    return {
      tabKey: tab.key,
      side: tab.side,
      row: tab.row,
      lineKeys: chain.map((line) => line.key),
      riserId,
      maillonId,
      specifiedM: pathLengthM(chain, strapLengthM(riserId, from, risers)),
    };
  });
}
