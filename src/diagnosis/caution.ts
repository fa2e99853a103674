/** The cautions that go with every verdict, on screens, in reports and in exports. */
export const CAUTION_SHORT =
  "Approximate model. Not an inspection and not a clearance to fly: the maker's manual, local rules and a qualified inspector decide.";

export const CAUTION_FULL: readonly string[] = [
  "The shape, tensions and angles come from an approximate model of your wing, fitted to the plan; the fabric, the air and the wing's age are simplified.",
  "Nothing here is an inspection or a clearance to fly. The maker's manual, local rules and a qualified inspector decide.",
  "Loops only within what the maker allows. A damaged line is replaced, not trimmed; a wing with a damaged main line stays on the ground.",
  "After any change: inflate on the ground first, look at symmetry, trailing edge and brake free travel, and have the wing checked before it flies; then a first flight in calm air by someone competent.",
];
