/**
 * The one place where a deviation becomes a colour: 3D lines, charts, tables, legends and reports all ask here.
 *
 * A diverging scale of our own for a pale ground. The neutral is a mid grey, not near-white, so that a line in
 * specification stays visible; both arms darken to the same lightness while chroma rises, short towards rust, long
 * towards blue. Lightness is the same on both arms at the same size of deviation, so size can be read without hue, and
 * the hues are a pair that all common kinds of colour vision tell apart.
 */
import { converter, differenceCiede2000 } from "culori";
import type { DeviationScale } from "./scale.ts";

export interface Colour {
  /** sRGB, gamma-encoded, 0 to 1. */
  readonly r: number;
  readonly g: number;
  readonly b: number;
  /** `#rrggbb`. */
  readonly hex: string;
}

/** The pale ground the scale is made for. */
export const GROUND_HEX = "#f2f4f1";

/** CIELAB lightness of the neutral: the lightest that keeps 3:1 (WCAG 2, non-text contrast) on the ground. */
const NEUTRAL_LIGHTNESS = 58;
/** CIELAB lightness of both ends. */
const END_LIGHTNESS = 32;
/** Above 1, chroma comes before darkness: small deviations already show which way they go. */
const DARKENING = 1.35;
/** CIELAB (D65) hue [degrees] at the neutral and at the end, and end chroma: inside sRGB at that lightness. */
const SHORT_ARM = { hueFrom: 50, hueTo: 41, chromaTo: 63 };
const LONG_ARM = { hueFrom: 258, hueTo: 284, chromaTo: 46 };

/** Steps from the neutral to an end; the table has one neutral entry and this many on each side. */
const STEPS = 128;

const toRgb = converter("rgb");
const difference = differenceCiede2000();

/** CIELAB with the D65 white, as chroma and hue. */
interface Shade {
  readonly mode: "lch65";
  readonly l: number;
  readonly c: number;
  readonly h: number;
}

/** Not measured: lighter than any colour of the scale and without hue; drawn dashed as well, never by colour alone. */
const NOT_MEASURED: Colour = colourOf({ mode: "lch65", l: 68, c: 2, h: 160 });

let table: readonly Colour[] | undefined;

/**
 * The whole scale, from short at the range's end to long at the range's end, with the neutral in the middle.
 *
 * Entries are evenly spaced in CIEDE2000 along each arm. Made once, on first use.
 */
export function deviationScale(): readonly Colour[] {
  if (table === undefined) {
    const short = arm(SHORT_ARM);
    const long = arm(LONG_ARM);
    table = [...short.slice(1).reverse(), ...long].map(colourOf);
  }
  return table;
}

/**
 * Colour of a deviation.
 *
 * @param deviationM measured − specified [m]; undefined where not measured.
 * @param scale beyond its range the end colour is kept; within its neutral half width everything is neutral.
 * @throws RangeError where the range isn't positive or the neutral half width doesn't lie in [0, range).
 */
export function deviationColour(
  deviationM: number | undefined,
  { rangeM, neutralM }: Pick<DeviationScale, "rangeM" | "neutralM">,
): Colour {
  if (!(rangeM > 0)) throw new RangeError(`The colour scale's range must be positive, got ${rangeM} m.`);
  if (!(neutralM >= 0 && neutralM < rangeM)) {
    throw new RangeError(`The neutral half width must lie in 0 to ${rangeM} m, got ${neutralM} m.`);
  }
  if (deviationM === undefined || Number.isNaN(deviationM)) return NOT_MEASURED;
  const beyondNeutral = Math.max(0, Math.abs(deviationM) - neutralM) / (rangeM - neutralM);
  const step = Math.round(Math.min(1, beyondNeutral) * STEPS) * Math.sign(deviationM);
  return deviationScale()[STEPS + step] as Colour;
}

/** Whether a deviation lies beyond the scale's end, where colour no longer tells how far. */
export function isBeyondScale(
  deviationM: number | undefined,
  { rangeM }: Pick<DeviationScale, "rangeM">,
): boolean {
  return deviationM !== undefined && Math.abs(deviationM) > rangeM;
}

/**
 * Evenly spaced stops of the scale for a legend, from short to long, both ends included.
 *
 * @param n number of stops, at least 2; an odd number has the neutral among them.
 */
export function legendStops(
  scale: Pick<DeviationScale, "rangeM" | "neutralM">,
  n: number,
): readonly { readonly deviationM: number; readonly colour: Colour }[] {
  if (!Number.isInteger(n) || n < 2) throw new RangeError(`A legend needs at least 2 stops, got ${n}.`);
  return Array.from({ length: n }, (_, i) => {
    const deviationM = scale.rangeM * ((2 * i) / (n - 1) - 1);
    return { deviationM, colour: deviationColour(deviationM, scale) };
  });
}

/**
 * One arm from the neutral to its end: lightness falls in equal steps, and chroma rises by as much as makes every step
 * the same CIEDE2000 difference. The step is the one with which the last entry has the arm's end chroma.
 */
function arm(shape: {
  readonly hueFrom: number;
  readonly hueTo: number;
  readonly chromaTo: number;
}): Shade[] {
  const shade = (step: number, c: number): Shade => {
    const t = step / STEPS;
    return {
      mode: "lch65",
      l: NEUTRAL_LIGHTNESS + (END_LIGHTNESS - NEUTRAL_LIGHTNESS) * t ** DARKENING,
      c,
      h: shape.hueFrom + (shape.hueTo - shape.hueFrom) * t,
    };
  };
  const march = (size: number): Shade[] => {
    const shades = [shade(0, 0)];
    for (let step = 1; step <= STEPS; step++) {
      const from = shades[step - 1] as Shade;
      // Where lightness alone makes more than the size, chroma stays; the search for the size moves away from there.
      const excess = (c: number) => difference(from, shade(step, c)) - size;
      shades.push(shade(step, excess(from.c) >= 0 ? from.c : risingRoot(excess, from.c, from.c + 1, 1e-6)));
    }
    return shades;
  };
  const endChroma = (size: number) => (march(size)[STEPS] as Shade).c;
  return march(risingRoot((size) => endChroma(size) - shape.chromaTo, 0.25, 0.35, 1e-3));
}

/** Root of a rising function that is negative at `low`, by regula falsi (Illinois) until |f| < tolerance.
 * `high` is moved up until it brackets the root. */
function risingRoot(f: (x: number) => number, low: number, high: number, tolerance: number): number {
  let below = f(low);
  let above = f(high);
  while (above < 0) {
    low = high;
    below = above;
    high *= 1.5;
    above = f(high);
  }
  let x = high;
  for (let i = 0; i < 60 && high - low > 1e-12; i++) {
    x = (low * above - high * below) / (above - below);
    const value = f(x);
    if (Math.abs(value) < tolerance) break;
    if (value > 0) {
      high = x;
      above = value;
      below /= 2;
    } else {
      low = x;
      below = value;
      above /= 2;
    }
  }
  return x;
}

function colourOf(shade: Shade): Colour {
  const { r, g, b } = toRgb(shade);
  const inGamut = [r, g, b].every((v) => v >= 0 && v <= 1);
  if (!inGamut) throw new RangeError(`Colour outside sRGB: L* ${shade.l}, C* ${shade.c}, h ${shade.h}.`);
  const hex = `#${[r, g, b]
    .map((v) =>
      Math.round(v * 255)
        .toString(16)
        .padStart(2, "0"),
    )
    .join("")}`;
  return { r, g, b, hex };
}
