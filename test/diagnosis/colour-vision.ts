/**
 * Simulated colour vision: G. M. Machado, M. M. Oliveira & L. A. F. Fernandes, "A physiologically-based model for
 * simulation of color vision deficiency", IEEE TVCG 15(6) (2009) 1291–1298, doi:10.1109/TVCG.2009.113; the matrices for
 * severity 1.0. They apply to linear light.
 */
export type ColourVision = "normal" | "protan" | "deutan" | "tritan";

type Row = readonly [number, number, number];
export const MACHADO: Readonly<Record<Exclude<ColourVision, "normal">, readonly [Row, Row, Row]>> = {
  protan: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deutan: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritan: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

interface Rgb {
  readonly r: number;
  readonly g: number;
  readonly b: number;
}

/** The colour as seen, gamma-encoded sRGB in and out, clipped to the gamut. */
export function seenWith(vision: ColourVision, colour: Rgb): Rgb {
  if (vision === "normal") return colour;
  const light = [decoded(colour.r), decoded(colour.g), decoded(colour.b)] as const;
  const [r, g, b] = MACHADO[vision].map((row) =>
    encoded(row[0] * light[0] + row[1] * light[1] + row[2] * light[2]),
  );
  return { r: r as number, g: g as number, b: b as number };
}

function decoded(v: number): number {
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
}

function encoded(v: number): number {
  const clipped = Math.min(1, Math.max(0, v));
  return clipped <= 0.0031308 ? 12.92 * clipped : 1.055 * clipped ** (1 / 2.4) - 0.055;
}
