/** What two states differ by, and by what the lines of each are coloured. */
import type { ColourM } from "./look.ts";
import type { StagePicture, StateView } from "./props.ts";

/** The state in front: the second where there are two. */
export function frontOf(picture: StagePicture): StateView {
  return picture.second ?? picture.first;
}

/**
 * Deviation of the second less that of the first, by line key [m]; positive where the second is longer.
 *
 * A state drawn in ink is as specified: its deviations are 0. A line that wasn't measured in either has no difference.
 *
 * @returns undefined where neither has deviations
 */
export function differenceM(first: StateView, second: StateView): ColourM {
  const [from, to] = [first.deviationM, second.deviationM];
  const keys = to ?? from;
  if (keys === undefined) return undefined;
  const of = (map: typeof from, key: string): number | undefined => (map === undefined ? 0 : map.get(key));
  return new Map(
    [...keys.keys()].map((key) => {
      const [before, after] = [of(from, key), of(to, key)];
      return [key, before === undefined || after === undefined ? undefined : after - before];
    }),
  );
}

/** What the lines of both states are coloured by, in the order of the states. */
export function coloursOf(picture: StagePicture): readonly [first: ColourM, second: ColourM] {
  const { first, second, colourOf } = picture;
  if (second === undefined) return [first.deviationM, undefined];
  if (colourOf === "difference") return [undefined, differenceM(first, second)];
  return [first.deviationM, second.deviationM];
}
