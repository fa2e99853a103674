/** What to think over before a swap, in plain words. */
import { plainMm, shortOrLong } from "../diagnosis/wording.ts";
import type { Line } from "../plan/index.ts";
import type { SwapInput, SwapSide } from "./swap-model.ts";
import { lineName } from "./trace.ts";

/**
 * Warnings for a pair.
 *
 * @param leftRightM mean of the left paths less the right ones once the new lines hang [m]; undefined where not known
 */
export function warningsOf(
  {
    damaged,
    replaced,
    input,
  }: {
    readonly damaged: ReadonlySet<string>;
    readonly replaced: ReadonlySet<string>;
    readonly input: SwapInput;
  },
  pair: readonly Line[],
  sides: readonly SwapSide[],
  leftRightM: number | undefined,
): readonly string[] {
  const nameOf = (key: string): string => lineName(pair.find((line) => line.key === key) as Line);
  const staying = sides.filter((side) => !side.replaced);
  const going = sides.filter((side) => side.replaced);
  const one = staying.length > 0 && going.length > 0 ? going[0] : undefined;
  const states = going.map((side) =>
    side.suggested === undefined ? undefined : side.landings[side.suggested]?.state?.kind.name,
  );
  return [
    ...staying
      .filter(({ lineKey }) => damaged.has(lineKey))
      .map(({ lineKey }) => `${nameOf(lineKey)} is damaged and isn't among the lines to be replaced.`),
    ...(one === undefined
      ? []
      : [
          `Only ${nameOf(one.lineKey)} is replaced.${
            leftRightM === undefined
              ? " By how much left and right will differ can't be told: it takes readings of both sides and the old line's length."
              : ` Its paths will be ${plainMm(leftRightM, 1)} ${shortOrLong(one.side === "left" ? leftRightM : -leftRightM)} against the other side.`
          } Replace both of a pair.`,
        ]),
    ...(pair.length === 1 ? [`${lineName(pair[0] as Line)} has no mirror twin in the plan.`] : []),
    ...(states.length === 2 && states[0] !== states[1] && states[0] !== undefined && states[1] !== undefined
      ? [
          `Left and right would get different loops (${states[0]}, ${states[1]}): the sides have aged differently. Measure both again before you leave it so.`,
        ]
      : []),
    ...going.flatMap(({ lineKey, old, fresh }) => [
      ...(old?.basis === "attributed"
        ? [
            `The old length of ${nameOf(lineKey)} is reckoned from the readings, not measured, to about ±${plainMm(2 * old.standardUncertaintyM, 1)}.`,
          ]
        : []),
      ...(fresh.basis === "specified"
        ? [`The new length of ${nameOf(lineKey)} is the plan's: measure it when it's there.`]
        : []),
    ]),
    ...(input.deviations === undefined && replaced.size > 0
      ? [
          "There are no readings: all that can be met is the old line's working length, whether or not it was right.",
        ]
      : []),
    ...(going.length > 0
      ? ["A damaged line may have been stretched: if the old one is longer than its twin, don't copy it."]
      : []),
  ];
}
