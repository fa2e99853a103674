/** Readings that fit another tab: two that have each other's, or one that was read or entered at the wrong tab. */
import { type Expectation, expectedReadingAt, logHonestAt, refitGain, sigmasOff } from "./expectation.ts";
import type { Layout, Place } from "./layout.ts";
import type { Candidate } from "./model.ts";
import { LEAST_LOG_ODDS, RATE } from "./plausible.ts";
import { swapSentence, wrongTabSentence } from "./sentences.ts";

/** Least distance of a reading from what is expected to be looked at, in standard deviations. */
const LEAST_OFF = 2.5;
/** And most distance from what the other tab should read. */
const MOST_OFF = 4.5;

export function exchangedCandidates(expectation: Expectation): Candidate[] {
  const { layout } = expectation;
  const near = nextInOrder(layout);
  const found: Candidate[] = [];
  const odd = layout.valuesM.flatMap((values, tab) =>
    values.flatMap((value) => (sigmasOff(expectation, tab, value) > LEAST_OFF ? [{ tab, value }] : [])),
  );
  odd.forEach(({ tab, value }) => {
    layout.places.forEach((_, other) => {
      if (other !== tab && sigmasOff(expectation, other, value) < MOST_OFF) {
        const candidate = wrongTab(expectation, near, tab, value, other);
        if (candidate.logOdds > LEAST_LOG_ODDS) found.push(candidate);
      }
    });
  });
  const tried = new Set<string>();
  for (const { tab, value } of odd)
    layout.valuesM.forEach((values, other) => {
      const pair = [tab, other].sort((a, b) => a - b).join(" ");
      if (other === tab || tried.has(pair)) return;
      tried.add(pair);
      for (const second of values) {
        const candidate = swapped(expectation, near, tab, value, other, second);
        if (candidate && candidate.logOdds > LEAST_LOG_ODDS) found.push(candidate);
      }
    });
  return found;
}

/** Next tab to each in the order of calling, within its sequence. */
function nextInOrder(layout: Layout): (one: number, other: number) => boolean {
  const next = new Map<number, number>();
  for (const sequence of layout.sequences)
    sequence.slice(1).forEach((tab, i) => {
      next.set(sequence[i] as number, tab);
    });
  return (one, other) => next.get(one) === other || next.get(other) === one;
}

function swapped(
  expectation: Expectation,
  near: (one: number, other: number) => boolean,
  one: number,
  oneM: number,
  other: number,
  otherM: number,
): Candidate | undefined {
  const { layout } = expectation;
  const [a, b] = [layout.places[one] as Place, layout.places[other] as Place];
  const mirrored = a.mirror === other;
  const beside = near(one, other) && a.side === b.side;
  const inRow = a.group === b.group;
  const sameRib = a.side === b.side && a.rib === b.rib;
  if (!mirrored && !beside && !inRow && !sameRib) return undefined;
  // Only figures that would fit the other place, within what a row of few readings may be led astray by.
  const stray = inRow ? Math.abs(a.shouldReadM - b.shouldReadM) / 2 : 0;
  if (!fits(expectation, other, oneM, stray) || !fits(expectation, one, otherM, stray)) return undefined;
  const rate = beside ? RATE.neighboursSwapped : mirrored ? RATE.sidesSwapped : RATE.tabsSwapped;
  const [ours, theirs] = [
    replace(layout.valuesM[one] ?? [], oneM, otherM),
    replace(layout.valuesM[other] ?? [], otherM, oneM),
  ];
  const logOdds =
    Math.log(rate) +
    (inRow
      ? refitGain(
          expectation,
          a.group,
          new Map([
            [one, ours],
            [other, theirs],
          ]),
        )
      : logHonestAt(expectation, one, ours) +
        logHonestAt(expectation, other, theirs) -
        logHonestAt(expectation, one, layout.valuesM[one] ?? []) -
        logHonestAt(expectation, other, layout.valuesM[other] ?? []));
  return {
    kind: beside ? "neighbours swapped" : mirrored ? "sides swapped" : "tabs swapped",
    concerns: [
      {
        target: a.target,
        readM: oneM,
        insteadM: otherM,
        belongsTo: b.target,
        expectedM: expectedReadingAt(expectation, other),
      },
      {
        target: b.target,
        readM: otherM,
        insteadM: oneM,
        belongsTo: a.target,
        expectedM: expectedReadingAt(expectation, one),
      },
    ],
    logOdds,
    stepM: undefined,
    structural: false,
    unsure: false,
    sentence: swapSentence(a.target, b.target, oneM, otherM),
    correction: {
      kind: "edits",
      edits: [
        { target: a.target, readM: oneM, to: { target: b.target, valueM: oneM } },
        { target: b.target, readM: otherM, to: { target: a.target, valueM: otherM } },
      ],
    },
  };
}

function wrongTab(
  expectation: Expectation,
  near: (one: number, other: number) => boolean,
  tab: number,
  valueM: number,
  other: number,
): Candidate {
  const { layout } = expectation;
  const [here, there] = [layout.places[tab] as Place, layout.places[other] as Place];
  const [ours, theirs] = [
    layout.valuesM[tab] as readonly number[],
    layout.valuesM[other] as readonly number[],
  ];
  const logOdds =
    Math.log(wrongTabRate(here, there, near(tab, other), here.mirror === other)) +
    logHonestAt(expectation, tab, without(ours, valueM)) +
    logHonestAt(expectation, other, [...theirs, valueM]) -
    logHonestAt(expectation, tab, ours) -
    logHonestAt(expectation, other, theirs);
  return {
    kind: "wrong tab",
    concerns: [
      {
        target: here.target,
        readM: valueM,
        insteadM: undefined,
        belongsTo: there.target,
        expectedM: expectedReadingAt(expectation, other),
      },
    ],
    logOdds,
    stepM: undefined,
    structural: false,
    unsure: false,
    sentence: wrongTabSentence(here.target, valueM, there.target, theirs.length > 0),
    correction: {
      kind: "edits",
      edits: [{ target: here.target, readM: valueM, to: { target: there.target, valueM } }],
    },
  };
}

function fits(expectation: Expectation, tab: number, valueM: number, strayM: number): boolean {
  return (
    Math.abs(valueM - expectedReadingAt(expectation, tab)) <
    MOST_OFF * (expectation.sigmaM[tab] as number) + strayM
  );
}

function wrongTabRate(here: Place, there: Place, near: boolean, mirrored: boolean): number {
  if (near) return RATE.wrongTabNext;
  if (mirrored) return RATE.wrongTabMirror;
  if (here.side === there.side && here.rib === there.rib) return RATE.wrongTabRow;
  // All that is left: any tab of the row and side, and hardly ever one elsewhere.
  return here.group === there.group ? RATE.wrongTabElse : RATE.wrongTabElse / 30;
}

function without(values: readonly number[], valueM: number): readonly number[] {
  const at = values.indexOf(valueM);
  return values.filter((_, i) => i !== at);
}

function replace(values: readonly number[], valueM: number, byM: number): readonly number[] {
  const at = values.indexOf(valueM);
  return values.map((value, i) => (i === at ? byM : value));
}
