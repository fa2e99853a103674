/** An invented three-row light wing: thin lines, two tiers at the tips, totals from the maillon. */
import { tipBankFromSpans } from "../geometry/outline.ts";
import type { Branch, RowSpec, WingSpec } from "./wing-spec.ts";

const FLAT_SPAN_M = 10.76;
const ARC_EXPONENT = 1.15;

/** Every second cell wall: two lower lines with two middle lines each, and one that carries its two upper lines itself. */
const WALLS: readonly Branch[] = [
  [
    [2, 4],
    [6, 8],
  ],
  [
    [10, 12],
    [14, 16],
  ],
  [18, 20],
];

const LINES = {
  materials: ["aramid 1.5", "aramid 1.1", "aramid 0.8"],
  riseM: [1.1, 0.75],
  lowerLines: WALLS,
} satisfies Partial<RowSpec>;
const HITCHED = {
  loop: { name: "girth hitch", takeUpMm: 11 },
} satisfies Partial<RowSpec>;

export const LIGHT_WING: WingSpec = {
  wing: {
    name: "Thistledrift 22",
    size: "22",
    kind: "paraglider",
    allUpWeightKg: { min: 70, max: 92 },
    note: "Invented for demonstration; there is no such wing. Light wing, kept dry in the loft at Upper Vennick, a village that is on no map. Nothing here says that a wing may be flown.",
  },
  outline: {
    flatHalfSpanM: FLAT_SPAN_M / 2,
    rootChordM: 2.47,
    tipChordM: 0.52,
    tipBankRad: tipBankFromSpans(FLAT_SPAN_M, 0.79 * FLAT_SPAN_M, ARC_EXPONENT),
    arcExponent: ARC_EXPONENT,
    sweepFraction: 0.38,
    twistTipRad: 0.01,
  },
  cells: 42,
  riserPointOverChord: 0.4,
  centralLineOverSpan: 0.61,
  carabinerSpacingM: 0.42,
  formedAtKg: 82,
  materials: [
    {
      id: "aramid 1.5",
      fibre: "aramid",
      diameterMm: 1.5,
      stiffnessEaN: 40000,
      massGPerM: 1.6,
      breakingForceN: 1600,
    },
    {
      id: "aramid 1.1",
      fibre: "aramid",
      diameterMm: 1.1,
      stiffnessEaN: 25000,
      massGPerM: 0.9,
      breakingForceN: 1000,
    },
    {
      id: "aramid 0.8",
      fibre: "aramid",
      diameterMm: 0.8,
      stiffnessEaN: 17000,
      massGPerM: 0.5,
      breakingForceN: 680,
    },
    {
      id: "HMPE 1.5 sheathed",
      fibre: "HMPE",
      diameterMm: 1.5,
      stiffnessEaN: 41000,
      massGPerM: 1.4,
      breakingForceN: 1650,
    },
    {
      id: "HMPE 0.8",
      fibre: "HMPE",
      diameterMm: 0.8,
      stiffnessEaN: 17500,
      massGPerM: 0.4,
      breakingForceN: 700,
    },
  ],
  risers: [
    { id: "A", lengthMm: 490 },
    { id: "B", lengthMm: 490 },
    { id: "C", lengthMm: 490 },
  ],
  maillons: [
    { id: "A", riser: "A", barDiameterMm: 3.5 },
    { id: "B", riser: "B", barDiameterMm: 3.5 },
    { id: "C", riser: "C", barDiameterMm: 3.5 },
  ],
  brakes: { pulleyRiser: "C", pulleyHeightMm: 200, freeTravelMm: 70 },
  settings: [{ id: "speed", name: "Speed system", kind: "speed", strapChangesMm: { A: -140, B: -75 } }],
  reference: {
    from: "maillon",
    tensionN: 50,
    note: "From the maillon's inner edge to the cloth. Brakes from the pulley.",
  },
  rows: [
    {
      row: "A",
      prefix: "A",
      hangsOn: "A",
      chordFraction: 0.1,
      colour: "red",
      ...LINES,
    },
    {
      row: "B",
      prefix: "B",
      hangsOn: "B",
      chordFraction: 0.33,
      colour: "white",
      ...LINES,
      ...HITCHED,
    },
    {
      row: "C",
      prefix: "C",
      hangsOn: "C",
      chordFraction: 0.62,
      colour: "blue",
      ...LINES,
      ...HITCHED,
    },
    {
      row: "tip",
      prefix: "T",
      hangsOn: "A",
      chordFraction: 0.4,
      colour: "grey",
      materials: ["aramid 1.1", "aramid 0.8"],
      riseM: [0.6],
      lowerLines: [
        [
          { rib: 22, chordFraction: 0.12 },
          { rib: 22, chordFraction: 0.45 },
          { rib: 22, chordFraction: 0.8 },
        ],
      ],
    },
    {
      row: "brake",
      prefix: "BR",
      hangsOn: "pulley",
      chordFraction: 1,
      colour: "orange",
      materials: ["HMPE 1.5 sheathed", "HMPE 0.8"],
      riseM: [1.8, 1.0, 0.65],
      lowerLines: [
        [
          [
            [8, 9],
            [10, 11],
          ],
          [
            [12, 13],
            [14, 15],
          ],
          [
            [16, 17],
            [18, 20],
          ],
        ],
      ],
    },
  ],
};
