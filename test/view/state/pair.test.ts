import { describe, expect, it } from "vitest";
import type { Analysis } from "../../../src/diagnosis/model.ts";
import { deviationScaleOf } from "../../../src/diagnosis/scale.ts";
import type { Equilibrium } from "../../../src/geometry/model.ts";
import { INITIAL } from "../../../src/view/state/choices.ts";
import type { Live } from "../../../src/view/state/live.ts";
import {
  differenceWords,
  heldAgainst,
  pairShown,
  pictureOf,
  scaleOf,
  showsDifference,
  statesThere,
} from "../../../src/view/state/pair.ts";

const solved = (x: number) => ({ positions: Float64Array.from([x, 0, 0]) }) as unknown as Equilibrium;
const analysisWith = (deviationM: number) =>
  ({ lines: [{ lineKey: "left:A1", deviationM, attributedM: 0, basis: "path" }] }) as unknown as Analysis;

/** Measured 12 mm short, tried 2 mm short, and after the work 1 mm short. */
function live(there: {
  readonly measured?: boolean;
  readonly tried?: boolean;
  readonly after?: boolean;
}): Live {
  return {
    states: {
      specified: solved(0),
      measured: there.measured ? solved(1) : undefined,
      tried: there.tried ? solved(2) : undefined,
    } as unknown as Live["states"],
    asMeasured: analysisWith(-0.012),
    asTried: there.tried ? analysisWith(-0.002) : undefined,
    ...(there.after ? { after: { solved: solved(3), analysis: analysisWith(-0.001) } } : {}),
    trial: new Map(),
    tookMs: 1,
  };
}
const all = live({ measured: true, tried: true, after: true });

describe("the pair shown", () => {
  it("is as before where nothing else is asked for", () => {
    expect(pairShown(all, "specified", undefined)).toEqual({ front: "specified", against: undefined });
    expect(pairShown(all, "measured", undefined)).toEqual({ front: "measured", against: undefined });
    expect(pairShown(all, "both", undefined)).toEqual({ front: "measured", against: "specified" });
    expect(pairShown(all, "tried", undefined)).toEqual({ front: "tried", against: "measured" });
    const unread = live({ tried: true });
    expect(pairShown(unread, "tried", undefined)).toEqual({ front: "tried", against: "specified" });
    expect(pairShown(unread, "both", undefined)).toEqual({ front: "specified", against: undefined });
  });

  it("is any two states that there are", () => {
    expect(pairShown(all, "measured", "tried")).toEqual({ front: "measured", against: "tried" });
    expect(pairShown(all, "tried", "specified")).toEqual({ front: "tried", against: "specified" });
    expect(pairShown(all, "measured", "after")).toEqual({ front: "measured", against: "after" });
    expect(statesThere(all)).toEqual(["specified", "measured", "tried", "after"]);
    expect(statesThere(live({ measured: true }))).toEqual(["specified", "measured"]);
  });

  it("never holds a state against itself or against one that isn't there", () => {
    expect(pairShown(all, "measured", "measured").against).toBeUndefined();
    expect(pairShown(live({ measured: true }), "measured", "tried").against).toBeUndefined();
    expect(pairShown(live({ measured: true }), "both", "after").against).toBe("specified");
  });

  it("can be a single state, except where both are asked for", () => {
    expect(pairShown(all, "tried", "nothing").against).toBeUndefined();
    expect(pairShown(all, "both", "nothing").against).toBe("specified");
    const pair = pairShown(all, "both", undefined);
    expect(heldAgainst(pair, "both", "nothing")).toEqual({ shown: "measured", against: "nothing" });
    expect(heldAgainst(pair, "both", "tried")).toEqual({ shown: "measured", against: "tried" });
    expect(heldAgainst(pair, "both", "specified")).toEqual({ shown: "both", against: "specified" });
  });
});

describe("the picture", () => {
  const choices = { ...INITIAL, shown: "tried" as const };

  it("has the state held against first, and the one in front second, each with its own deviations", () => {
    const picture = pictureOf(all, { ...choices, compare: "wipe" });
    expect(picture.first.name).toBe("As measured");
    expect(picture.second?.name).toBe("As tried");
    expect(picture.first.solved).toBe(all.states.measured);
    expect(picture.first.deviationM?.get("left:A1")).toBe(-0.012);
    expect(picture.second?.deviationM?.get("left:A1")).toBe(-0.002);
    expect(picture.origin).toBe(all.states.specified);
    expect(picture.how).toBe("wipe");
  });

  it("says so where nothing was measured yet, and has no deviations then", () => {
    const picture = pictureOf(live({}), { ...choices, shown: "measured" });
    expect(picture.first.name).toBe("As specified: nothing measured yet");
    expect(picture.first.deviationM).toBeUndefined();
    expect(pictureOf(live({ tried: true }), choices).first.name).toBe("As specified");
  });

  it("keeps the scale's range for a difference, with a neutral as wide as the difference is uncertain", () => {
    const own = deviationScaleOf(0.03, 0.003);
    const difference = { ...choices, colourOf: "difference" as const };
    expect(scaleOf(pictureOf(all, choices), own)).toBe(own);
    expect(scaleOf(pictureOf(all, difference), own)).toMatchObject({ rangeM: 0.03, neutralM: 0 });
    const specified = pictureOf(all, { ...difference, against: "specified" });
    expect(scaleOf(specified, own).neutralM).toBeCloseTo(0.003, 12);
    const after = pictureOf(all, { ...difference, shown: "measured", against: "after" });
    expect(scaleOf(after, own).neutralM).toBeCloseTo(0.003 * Math.SQRT2, 12);
  });

  it("says which is taken from which", () => {
    const picture = pictureOf(all, { ...choices, colourOf: "difference" });
    if (!showsDifference(picture)) throw new Error("There are two states.");
    expect(differenceWords(picture, deviationScaleOf(0.03))).toBe("Colours: as tried less as measured.");
    expect(showsDifference(pictureOf(all, { ...choices, against: "nothing", colourOf: "difference" }))).toBe(
      false,
    );
  });
});
