import { describe, expect, it } from "vitest";
import { deviationColour } from "../../../src/diagnosis/colour.ts";
import { type DeviationScale, deviationScaleOf } from "../../../src/diagnosis/scale.ts";
import { type Line, ROWS, type Row, type Side } from "../../../src/plan/model.ts";
import {
  type ColourM,
  fillLooks,
  focusOf,
  INK_HEX,
  LOOK,
  LOOK_SIZE,
  rgbOf,
  unmeasuredFlags,
} from "../../../src/view/stage/look.ts";
import type { StageTopology } from "../../../src/view/stage/topology.ts";
import { lineIndex, mirrorTwins, pathThrough } from "../../../src/view/stage/trace.ts";

/** On each side: lower line A1 on the maillon, middle AM1 and AM2 on it, uppers a1, a2 on AM1 and a3 on AM2; a brake K. */
function lines(): Line[] {
  const half = (side: Side): Line[] => {
    const other = side === "left" ? "right" : "left";
    const line = (id: string, row: Row, tier: number, on: string | undefined, carries: string[]): Line => ({
      key: `${side}:${id}`,
      id,
      side,
      row,
      tier,
      lengthAssumed: false,
      hangsOn:
        on !== undefined
          ? { kind: "line", lineKey: `${side}:${on}` }
          : row === "brake"
            ? { kind: "pulley" }
            : { kind: "maillon", maillonId: "A" },
      carriesLines: carries.map((c) => `${side}:${c}`),
      carriesTabs: [],
      lengthM: 2,
      materialId: "m",
      colour: undefined,
      loopTakeUpM: 0,
      loopName: undefined,
      mirrorKey: `${other}:${id}`,
    });
    return [
      line("A1", "A", 1, undefined, ["AM1", "AM2"]),
      line("AM1", "A", 2, "A1", ["a1", "a2"]),
      line("AM2", "A", 2, "A1", ["a3"]),
      line("a1", "A", 3, "AM1", []),
      line("a2", "A", 3, "AM1", []),
      line("a3", "A", 3, "AM2", []),
      line("K", "brake", 1, undefined, []),
    ];
  };
  return [...half("left"), ...half("right")];
}

const all = lines();
const index = lineIndex(all);
const keys = all.map((l) => l.key);
const topology = { keys, place: new Map(keys.map((k, i) => [k, i])) } as unknown as StageTopology;
const everyRow = new Set<Row>(ROWS);
const bothSides = new Set<Side>(["left", "right"]);
const plain = deviationScaleOf(0.02);
const none = focusOf(index, new Set(), undefined);

function deviations(given: Record<string, number>): ReadonlyMap<string, number | undefined> {
  return new Map(keys.map((key) => [key, given[key]]));
}

function looksOf(
  colourM: ColourM,
  options: {
    focus?: ReturnType<typeof focusOf>;
    rows?: ReadonlySet<Row>;
    sides?: ReadonlySet<Side>;
    scale?: DeviationScale;
  } = {},
) {
  const out = new Float64Array(LOOK_SIZE * keys.length);
  const { focus = none, rows = everyRow, sides = bothSides, scale = plain } = options;
  fillLooks({ colourM, rows, sides, scale }, topology, index, focus, out);
  return (key: string) => {
    const o = LOOK_SIZE * keys.indexOf(key);
    return {
      rgb: [out[o + LOOK.r], out[o + LOOK.g], out[o + LOOK.b]] as number[],
      width: out[o + LOOK.width] as number,
      litWidth: out[o + LOOK.litWidth] as number,
    };
  };
}

describe("following a line", () => {
  it("goes down to the maillon and up to every line it carries", () => {
    expect([...pathThrough(index, "left:AM1")].sort()).toEqual(["left:A1", "left:a1", "left:a2"]);
    expect([...pathThrough(index, "left:A1")].sort()).toEqual([
      "left:AM1",
      "left:AM2",
      "left:a1",
      "left:a2",
      "left:a3",
    ]);
    expect([...pathThrough(index, "right:a3")].sort()).toEqual(["right:A1", "right:AM2"]);
    expect(pathThrough(index, "left:nothing").size).toBe(0);
  });

  it("finds the mirror twin, but not one that is meant already", () => {
    expect([...mirrorTwins(index, ["left:A1"])]).toEqual(["right:A1"]);
    expect(mirrorTwins(index, ["left:A1", "right:A1"]).size).toBe(0);
  });
});

describe("how lines look", () => {
  it("is their deviation's colour where measured lines are shown, and ink where the specified ones are", () => {
    const colourM = deviations({ "left:a1": -0.012 });
    const { r, g, b } = deviationColour(-0.012, plain);
    expect(looksOf(colourM)("left:a1").rgb).toEqual([r, g, b]);
    expect(looksOf(undefined)("left:a1").rgb).toEqual(Object.values(rgbOf(INK_HEX)));
  });

  it("is the same for all deviations within the uncertainty, short or long, and told apart beyond it", () => {
    const colourM = deviations({ "left:a1": -0.0028, "left:a2": 0.0011, "left:a3": -0.006 });
    const look = looksOf(colourM, { scale: deviationScaleOf(0.02, 0.003) });
    expect(look("left:a1").rgb).toEqual(look("left:a2").rgb);
    expect(look("left:a3").rgb).not.toEqual(look("left:a2").rgb);
    const bare = looksOf(colourM);
    expect(bare("left:a1").rgb).not.toEqual(bare("left:a2").rgb);
  });

  it("is stouter beyond the scale's end and finer where not measured", () => {
    const look = looksOf(deviations({ "left:a1": -0.012, "left:a2": -0.031 }));
    expect(look("left:a2").width).toBeGreaterThan(1.5 * look("left:a1").width);
    expect(look("left:a3").width).toBeLessThan(look("left:a1").width);
  });

  it("marks the lines without a reading, unless the state is drawn in ink", () => {
    const flags = unmeasuredFlags(deviations({ "left:a1": 0 }), topology);
    expect(flags[keys.indexOf("left:a1")]).toBe(0);
    expect(flags[keys.indexOf("left:K")]).toBe(1);
    expect(unmeasuredFlags(undefined, topology).includes(1)).toBe(false);
  });

  it("is nothing for rows and sides that are filtered away", () => {
    const colourM = deviations({ "left:a1": 0 });
    const brakeOnly = looksOf(colourM, { rows: new Set<Row>(["brake"]) });
    expect(brakeOnly("left:a1").width).toBe(0);
    expect(brakeOnly("left:K").width).toBeGreaterThan(0);
    const rightOnly = looksOf(colourM, {
      sides: new Set<Side>(["right"]),
      focus: focusOf(index, new Set(["left:a1"]), undefined),
    });
    expect(rightOnly("left:a1").litWidth).toBe(0);
    expect(rightOnly("right:a1").width).toBeGreaterThan(0);
  });
});

describe("what stands out", () => {
  it("is the hovered line and its twin, then its path, while the rest recedes", () => {
    const focus = focusOf(index, new Set(), "left:AM1");
    expect(focus.standing.get("left:AM1")).toBe("lit");
    expect(focus.standing.get("right:AM1")).toBe("twin");
    expect(focus.standing.get("left:a2")).toBe("path");
    expect(focus.standing.has("right:A1")).toBe(false);
    const colourM = deviations(Object.fromEntries(keys.map((k) => [k, 0.01])));
    const look = looksOf(colourM, { focus });
    expect(look("left:AM1").litWidth).toBeGreaterThan(look("left:AM1").width);
    expect(look("right:AM1").litWidth).toBe(look("left:AM1").litWidth);
    expect(look("left:a1").rgb).toEqual(looksOf(colourM)("left:a1").rgb);
    expect(
      (look("right:A1").rgb[0] as number) - (looksOf(colourM)("right:A1").rgb[0] as number),
    ).toBeGreaterThan(0.1);
  });

  it("is nothing in particular without hover or selection", () => {
    expect(none.recede).toBe(0);
    expect(none.standing.size).toBe(0);
    expect(none.marked).toEqual([]);
  });

  it("has its ends marked, as long as it is only a few lines", () => {
    expect([...focusOf(index, new Set(["left:A1"]), undefined).marked].sort()).toEqual([
      "left:A1",
      "right:A1",
    ]);
    const many = focusOf(index, new Set(keys.slice(0, 7)), undefined);
    expect(many.marked).toEqual([]);
    expect(focusOf(index, new Set(keys.slice(0, 7)), "right:K").marked).toEqual(["right:K", "left:K"]);
  });

  it("ignores keys the wing doesn't have", () => {
    const focus = focusOf(index, new Set(["left:Z9"]), "right:Z9");
    expect(focus.standing.size).toBe(0);
    expect(focus.recede).toBe(0);
  });
});

describe("a line that is meant alone", () => {
  it("is lit without its twin, whose side isn't asked for", () => {
    const [key] = keys.filter((one) => mirrorTwins(index, [one]).size > 0);
    if (key === undefined) throw new Error("No line has a twin.");
    const [twin = ""] = mirrorTwins(index, [key]);
    const both = focusOf(index, new Set([key]), undefined);
    expect(both.standing.get(twin)).toBe("twin");
    const alone = focusOf(index, new Set([key]), undefined, true);
    expect(alone.standing.get(key)).toBe("lit");
    expect(alone.standing.get(twin)).not.toBe("twin");
    expect(alone.marked).not.toContain(twin);
  });
});
