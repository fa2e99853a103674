/** An invented four-row paramotor wing for schools: cascades of three tiers, totals from the riser's base. */
import { tipBankFromSpans } from "../geometry/outline.ts";
import type { Branch, RowSpec, WingSpec } from "./wing-spec.ts";

const FLAT_SPAN_M = 11.96;
const ARC_EXPONENT = 1.2;

/** Every second cell wall carries the four rows: three lower lines, two middle lines each, two upper lines each, three once. */
const EVERY_SECOND_WALL: readonly Branch[] = [
  [
    [2, 4],
    [6, 8],
  ],
  [
    [10, 12, 14],
    [16, 18],
  ],
  [
    [20, 22],
    [24, 26],
  ],
];

const FRONT = {
  materials: ["aramid 2.1 sheathed", "aramid 1.7 sheathed", "aramid 1.1 sheathed"],
  riseM: [1.15, 0.75],
  lowerLines: EVERY_SECOND_WALL,
} satisfies Partial<RowSpec>;
const REAR = {
  materials: ["HMPE 1.7 sheathed", "HMPE 1.3 sheathed", "HMPE 0.9 sheathed"],
  riseM: [1.1, 0.7],
  lowerLines: EVERY_SECOND_WALL,
} satisfies Partial<RowSpec>;

export const SCHOOL_WING: WingSpec = {
  wing: {
    name: "Tidewrack 28",
    size: "28",
    kind: "paramotor",
    allUpWeightKg: { min: 95, max: 135 },
    note: "Invented for demonstration; there is no such wing. School wing, kept in the boathouse at Orrisholm Sound, a coast that is on no map. Nothing here says that a wing may be flown.",
  },
  outline: {
    flatHalfSpanM: FLAT_SPAN_M / 2,
    rootChordM: 2.84,
    tipChordM: 0.62,
    tipBankRad: tipBankFromSpans(FLAT_SPAN_M, 0.79 * FLAT_SPAN_M, ARC_EXPONENT),
    arcExponent: ARC_EXPONENT,
    sweepFraction: 0.35,
    twistTipRad: 0.015,
  },
  cells: 52,
  riserPointOverChord: 0.41,
  centralLineOverSpan: 0.61,
  carabinerSpacingM: 0.45,
  formedAtKg: 115,
  materials: [
    {
      id: "aramid 2.1 sheathed",
      fibre: "aramid",
      diameterMm: 2.1,
      stiffnessEaN: 64000,
      massGPerM: 3.4,
      breakingForceN: 2700,
    },
    {
      id: "aramid 1.7 sheathed",
      fibre: "aramid",
      diameterMm: 1.7,
      stiffnessEaN: 48000,
      massGPerM: 2.3,
      breakingForceN: 2000,
    },
    {
      id: "aramid 1.1 sheathed",
      fibre: "aramid",
      diameterMm: 1.1,
      stiffnessEaN: 25000,
      massGPerM: 1.1,
      breakingForceN: 1000,
    },
    {
      id: "HMPE 1.7 sheathed",
      fibre: "HMPE",
      diameterMm: 1.7,
      stiffnessEaN: 50000,
      massGPerM: 1.9,
      breakingForceN: 2000,
    },
    {
      id: "HMPE 1.3 sheathed",
      fibre: "HMPE",
      diameterMm: 1.3,
      stiffnessEaN: 32000,
      massGPerM: 1.2,
      breakingForceN: 1300,
    },
    {
      id: "HMPE 0.9 sheathed",
      fibre: "HMPE",
      diameterMm: 0.9,
      stiffnessEaN: 20000,
      massGPerM: 0.6,
      breakingForceN: 800,
    },
  ],
  risers: [
    { id: "A", lengthMm: 480 },
    { id: "B", lengthMm: 480 },
    { id: "C", lengthMm: 480 },
    { id: "D", lengthMm: 480 },
  ],
  maillons: [
    { id: "A", riser: "A", barDiameterMm: 4.5 },
    { id: "B", riser: "B", barDiameterMm: 4.5 },
    { id: "C", riser: "C", barDiameterMm: 4.5 },
    { id: "D", riser: "D", barDiameterMm: 4.5 },
  ],
  brakes: { pulleyRiser: "D", pulleyHeightMm: 220, freeTravelMm: 80 },
  settings: [
    { id: "trimmers", name: "Trimmers open", kind: "trimmer", strapChangesMm: { B: 12, C: 36, D: 60 } },
    { id: "speed", name: "Speed system", kind: "speed", strapChangesMm: { A: -130, B: -85, C: -40 } },
  ],
  reference: {
    from: "riser",
    tensionN: 50,
    trimmerMm: 0,
    note: "From the riser's base at the main carabiner to the cloth, trimmers closed (0 mm). Brakes from the pulley.",
  },
  tolerances: {
    pathMm: 10,
    leftRightMm: 5,
    rowToRowMm: 10,
    minBrakeFreeTravelMm: 50,
    source: "common practice; a real wing's manual decides",
  },
  rows: [
    {
      row: "A",
      prefix: "A",
      hangsOn: "A",
      chordFraction: 0.09,
      colour: "red",
      ...FRONT,
    },
    {
      row: "B",
      prefix: "B",
      hangsOn: "B",
      chordFraction: 0.29,
      colour: "white",
      ...FRONT,
    },
    {
      row: "C",
      prefix: "C",
      hangsOn: "C",
      chordFraction: 0.55,
      colour: "green",
      ...REAR,
      loop: { name: "girth hitch", takeUpMm: 13 },
    },
    {
      row: "D",
      prefix: "D",
      hangsOn: "D",
      chordFraction: 0.78,
      colour: "blue",
      ...REAR,
      loop: { name: "two extra turns", takeUpMm: 20 },
    },
    {
      row: "tip",
      prefix: "T",
      hangsOn: "B",
      chordFraction: 0.4,
      colour: "grey",
      materials: ["aramid 1.7 sheathed", "HMPE 1.3 sheathed", "HMPE 0.9 sheathed"],
      riseM: [0.75, 0.45],
      lowerLines: [
        [
          [
            { rib: 27, chordFraction: 0.08 },
            { rib: 27, chordFraction: 0.27 },
          ],
          [
            { rib: 27, chordFraction: 0.47 },
            { rib: 27, chordFraction: 0.68 },
            { rib: 27, chordFraction: 0.9 },
          ],
        ],
      ],
    },
    {
      row: "brake",
      prefix: "BR",
      hangsOn: "pulley",
      chordFraction: 1,
      colour: "orange",
      materials: ["HMPE 1.7 sheathed", "HMPE 1.3 sheathed", "HMPE 0.9 sheathed", "HMPE 0.9 sheathed"],
      riseM: [2.0, 1.05, 0.65],
      // Every wall over the outer six tenths of the half-span.
      lowerLines: [
        [
          [
            [11, 12],
            [13, 14],
          ],
          [
            [15, 16],
            [17, 18],
          ],
          [
            [19, 20],
            [21, 22],
          ],
          [
            [23, 24],
            [25, 26],
          ],
        ],
      ],
    },
  ],
};
