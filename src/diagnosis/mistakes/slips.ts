/** Readings that fit if one slip of the keys or the ear is undone. */

import { expectedReadingM } from "../../readings/corrections.ts";
import { lookUp } from "../../readings/lookup.ts";
import type { Target } from "../../readings/model.ts";
import { type Meant, meantInstead } from "./digits.ts";
import { type Expectation, expectedReadingAt, logHonestAt } from "./expectation.ts";
import { groupOf } from "./layout.ts";
import type { Candidate } from "./model.ts";
import { LEAST_LOG_ODDS, logHonest, RATE } from "./plausible.ts";
import { slipSentence } from "./sentences.ts";

/** Readings nearer than this to what is expected aren't looked at, in standard deviations. */
const LEAST_OFF = 3.5;
/** How much a single line's change differs from its row's, besides scatter [m]. */
const LINE_SIGMA = 0.0025;
/** A slip that another one undoes nearly as well leaves open which it was, in nats. */
const CLOSE = 3;

export function slipCandidates(expectation: Expectation): Candidate[] {
  const { layout } = expectation;
  const found: Candidate[] = [];
  layout.valuesM.forEach((values, tab) => {
    const target = layout.places[tab]?.target as Target;
    const before = logHonestAt(expectation, tab, values);
    values.forEach((value, k) => {
      const replaced = (valueM: number): number =>
        logHonestAt(
          expectation,
          tab,
          values.map((other, i) => (i === k ? valueM : other)),
        );
      const weigh = (valueM: number): number => replaced(valueM) - before;
      // Repeats that disagree are looked at however near to the row they are.
      if (
        values.length === 1 &&
        isNear(value - expectedReadingAt(expectation, tab), expectation.sigmaM[tab] as number)
      )
        return;
      found.push(...weighed(target, value, expectedReadingAt(expectation, tab), weigh));
    });
  });
  found.push(...lineSlips(expectation));
  return found;
}

/** Lines read on their own: held against their row's change per length. */
function lineSlips(expectation: Expectation): Candidate[] {
  const { wing, check } = expectation.layout;
  const lookup = lookUp(wing);
  return check.readings.flatMap(({ target, valuesM }) => {
    if (target.kind !== "line") return [];
    const should = expectedReadingM(lookup, target, check);
    const line = wing.lines.find((one) => one.side === target.side && one.id === target.id);
    const path = line && wing.paths.find((one) => one.lineKeys.includes(line.key));
    if (should === undefined || line === undefined || path === undefined) return [];
    const fit = expectation.fits.get(groupOf(line.side, line.row));
    const expected = should + ((fit?.level ?? 0) * line.lengthM) / path.specifiedM;
    const sigma = Math.hypot(LINE_SIGMA, expectation.sigmas.get(groupOf(line.side, line.row)) ?? LINE_SIGMA);
    const density = (values: readonly number[]): number =>
      logHonest(
        values.map((value) => value - expected),
        sigma,
      );
    return valuesM.flatMap((value, k) => {
      if (valuesM.length === 1 && isNear(value - expected, sigma)) return [];
      const weigh = (valueM: number): number =>
        density(valuesM.map((other, i) => (i === k ? valueM : other))) - density(valuesM);
      return weighed(target, value, expected, weigh);
    });
  });
}

function isNear(off: number, sigma: number): boolean {
  return Math.abs(off) < LEAST_OFF * sigma;
}

function weighed(
  target: Target,
  readM: number,
  expectedM: number,
  weigh: (valueM: number) => number,
): Candidate[] {
  const rated = meantInstead(readM).map((meant) => ({
    meant,
    logOdds: Math.log(RATE.typing * meant.share) + weigh(meant.valueM),
  }));
  // The same figure by two ways, such as 7431 for 7421 as a wrong digit or a misread ten: the likelier way.
  const byFigure = new Map<string, { meant: Meant; logOdds: number }>();
  for (const one of rated) {
    const figure = (one.meant.valueM * 1000).toFixed(3);
    const known = byFigure.get(figure);
    if (!known || one.logOdds > known.logOdds) byFigure.set(figure, one);
  }
  const best = [...byFigure.values()]
    .filter(({ logOdds }) => logOdds > LEAST_LOG_ODDS)
    .sort((a, b) => b.logOdds - a.logOdds);
  let lostTold = false;
  return best.flatMap(({ meant, logOdds }) => {
    // Of a lost digit's ten possibilities the row picks the nearest: no better than the row, so it isn't to be entered.
    const rivals = best.filter((other) => other.meant.lost !== undefined && other.logOdds > logOdds - CLOSE);
    const unknown = meant.lost !== undefined && rivals.length > 1;
    if (meant.lost !== undefined) {
      if (lostTold) return [];
      lostTold = true;
    }
    const insteadM = unknown ? undefined : meant.valueM;
    return [
      {
        kind: meant.kind,
        concerns: [{ target, readM, insteadM, belongsTo: target, expectedM }],
        logOdds: unknown ? logOdds + Math.log(rivals.length) : logOdds,
        stepM: undefined,
        structural: false,
        unsure: unknown,
        sentence: slipSentence(target, meant.kind, readM, insteadM, expectedM),
        correction: {
          kind: "edits",
          edits: [{ target, readM, to: insteadM === undefined ? undefined : { target, valueM: insteadM } }],
        },
      } satisfies Candidate,
    ];
  });
}
