/** Readings that no line accounts for and no known slip explains; and repeats that can't all be right. */
import { type Expectation, expectedReadingAt, logPlainBlunder } from "./expectation.ts";
import type { Candidate, Concern } from "./model.ts";
import { disagreeSentence, unexplainedSentence } from "./sentences.ts";

const LEAST_LOG_ODDS = Math.log(0.1);

export function unexplainedCandidates(expectation: Expectation): Candidate[] {
  const { layout } = expectation;
  return layout.valuesM.flatMap((values, tab): Candidate[] => {
    if (values.length === 0) return [];
    const logOdds = logPlainBlunder(expectation, tab, values);
    if (logOdds < LEAST_LOG_ODDS) return [];
    const target = layout.places[tab]?.target as Concern["target"];
    const expectedM = expectedReadingAt(expectation, tab);
    const [only] = values;
    const alone = values.length === 1 && only !== undefined;
    return [
      {
        kind: "unexplained",
        concerns: values.map((readM) => ({
          target,
          readM,
          insteadM: undefined,
          belongsTo: target,
          expectedM,
        })),
        logOdds,
        stepM: undefined,
        structural: false,
        unsure: true,
        sentence: alone
          ? unexplainedSentence(target, only, expectedM)
          : disagreeSentence(target, values, expectedM),
        correction: alone ? { kind: "edits", edits: [{ target, readM: only, to: undefined }] } : undefined,
      },
    ];
  });
}
