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

export const buildHelp =
  (): string => `linewright build <draft.txt|draft.json> [--lengths table.csv] [--name NAME] [--out plan.json] [--text]

Makes a plan file from a wing's printed line plan, typed in as a draft. The plan goes to standard output or to a
file; what was assumed, and what is wrong by its line and character, to standard error. "-" reads the draft from
standard input. Exit code 0 where the plan can be used, 1 where it can't.

A row is typed from the middle of the wing outwards. What each lower line carries:
  2          a line that forks into two lines, each to a tab (1: a line straight to a tab)
  3+2        a line that carries a line of three and a line of two: five tabs
  (2+2)+2    brackets make one tier more: a line on which 2+2 and 2 hang; up to four tiers
  4*(2+2)    the same four times, joined by +
  (1)        a line that goes on as one line, without a fork
  2+D2       two tabs of its own row, and a line of row D with two tabs, on one lower line
Lower lines stand apart by blanks; 3x2+2 is the same lower line three times.

  A: 2+2 3+2 2+2         rows A to D, T (tip), BR (brake, on the pulley)
  A on A2: 2             goes on outwards on another maillon; "maillons: A on A, A2 on A" names them
  T on B: 2+3            a tip line on another row's riser
  ribs A B: 2-26/2       ribs of the tabs, counted from the middle; else every second one
  chord A: 9             per cent of the chord; one for the row, or one for each tab
  totals A: 7420 7329 -  totals of the tabs outwards, in mm; - where the table has none
  lower A: … middle A: … upper A: …       lengths of single lines; upper are all that end at a tab
  diameters C D: 1.7 1.2 0.8              by tier from below, in mm; or "material …" and "use …"
  loop C: 13 girth hitch                  loop at the maillon and what it takes up, in mm
  name, size, kind, weight, note; from (riser or maillon), tension, trimmer, reference; risers, maillons, pulley,
  free travel; canopy, limits, setting, colour; line AL1: …, tab A1: … (the plan's own names)

Names: tabs and the lines that end there A1, A2 …; lower lines AL1, middle AM1, the third of four tiers AU1.
Totals or lengths may be left out where the others tell them: what totals leave open is divided as is usual and
marked as assumed in the plan.

Usual patterns, to start from ("pattern: 4 rows 12 tabs"; rows that you give go before it):
${PATTERNS.map(({ id, name }) => `  ${id.padEnd(16)}${say(name)}\n`).join("")}
  --lengths FILE   totals and lengths from a table (CSV) with headings: number;A;B;C;brake, A lower and so on; or
                   row;number;line;mm
  --name NAME      name of the wing
  --out FILE       writes the plan there
  --text           prints the draft as it was understood instead of the plan

Example (kite.txt):
${indented(EXAMPLE_DRAFT)}
  linewright build kite.txt --out kite.json
`;
