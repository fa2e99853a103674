/** The help of `linewright build`: the notation, and an example that can be copied as it stands. */
import { PATTERNS } from "../plan/draft/index.ts";
import { say } from "../words/index.ts";

/** A small wing, complete: three rows, two lower lines each, and brakes. */
export const EXAMPLE_DRAFT = `name: Paper Kite
weight: 70-92
from: maillon
risers: A 490, B 490, C 490
A: 2+2 2
B: 2+2 2
C: 2+2 2
BR: 2+2
ribs A B C: 2,6,10,14,18,21
ribs BR: 9,12,15,18
totals A: 6504 6123 6025 6189 5513 5376
totals B: 6411 6038 5945 6109 5459 5338
totals C: 6470 6091 5993 6156 5487 5356
totals BR: 6585 6476 6322 6227
diameters: 1.5 1.1 0.8
canopy: flat area 22.1, flat span 10.76, cells 42
`;

const indented = (text: string): string => text.replace(/^(?=.)/gmu, "    ");

export function buildHelp(): string {
  return say("cli.help.build", {
    patterns: PATTERNS.map(({ id, name }) => `  ${id.padEnd(16)}${say(name)}\n`).join(""),
    example: indented(EXAMPLE_DRAFT),
  });
}
