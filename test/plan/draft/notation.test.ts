import { describe, expect, it } from "vitest";
import { type Branch, parseCascade, tabsOf, writeCascade } from "../../../src/plan/draft/index.ts";
import type { Row } from "../../../src/plan/index.ts";
import { type Random, randomFrom } from "../random.ts";

/** Nested numbers: a tab line is 1, a line that carries others a list. */
type Shape = 1 | readonly Shape[];
const shape = (branch: Branch): Shape => (branch.carries.length === 0 ? 1 : branch.carries.map(shape));
const shapes = (text: string): Shape[] => {
  const { lines, faults } = parseCascade(text, "A");
  expect(faults).toEqual([]);
  return lines.map(shape);
};
/** Without the places in the text. */
const plain = (branch: Branch): object => ({ row: branch.row, carries: branch.carries.map(plain) });

function randomBranch(random: Random, row: Row, tier: number): Branch {
  const own = random.next() < 0.1 ? random.pick(["A", "B", "C", "D", "tip"] as const) : row;
  const forks = tier < 4 && random.next() < 0.65 ? random.whole(1, 3) : 0;
  const one = (): Branch => randomBranch(random, own, tier + 1);
  // Equal neighbours are what the notation shortens.
  const first = forks > 0 ? one() : undefined;
  const carries = Array.from({ length: forks }, () => (random.next() < 0.5 ? (first as Branch) : one()));
  return { row: own, at: 0, carries };
}

describe("the notation of a cascade", () => {
  it.each<[string, Shape[]]>([
    ["1", [1]],
    ["2", [[1, 1]]],
    [
      "2 3",
      [
        [1, 1],
        [1, 1, 1],
      ],
    ],
    [
      "2+2",
      [
        [
          [1, 1],
          [1, 1],
        ],
      ],
    ],
    [
      "3+2 2",
      [
        [
          [1, 1, 1],
          [1, 1],
        ],
        [1, 1],
      ],
    ],
    ["2+1", [[[1, 1], 1]]],
    ["(2)", [[[1, 1]]]],
    ["(1)", [[1]]],
    ["((1))", [[[1]]]],
    ["1+1", [[1, 1]]],
    [
      "(2+2)+2",
      [
        [
          [
            [1, 1],
            [1, 1],
          ],
          [1, 1],
        ],
      ],
    ],
    [
      "2*(2+2)",
      [
        [
          [
            [1, 1],
            [1, 1],
          ],
          [
            [1, 1],
            [1, 1],
          ],
        ],
      ],
    ],
    [
      "2(2+2)",
      [
        [
          [
            [1, 1],
            [1, 1],
          ],
          [
            [1, 1],
            [1, 1],
          ],
        ],
      ],
    ],
    [
      "3x2",
      [
        [1, 1],
        [1, 1],
        [1, 1],
      ],
    ],
    [
      "2x2+2 1",
      [
        [
          [1, 1],
          [1, 1],
        ],
        [
          [1, 1],
          [1, 1],
        ],
        1,
      ],
    ],
    ["2 × 1, 2", [1, 1, [1, 1]]],
    [
      "2 + 2 3",
      [
        [
          [1, 1],
          [1, 1],
        ],
        [1, 1, 1],
      ],
    ],
    [
      " ( 2 + 2 ) ",
      [
        [
          [1, 1],
          [1, 1],
        ],
      ],
    ],
  ])("reads %j", (text, expected) => {
    expect(shapes(text)).toEqual(expected);
  });

  it("lets a line carry tabs of two rows", () => {
    const { lines, faults } = parseCascade("2+D2 D(1+c1)", "C");
    expect(faults).toEqual([]);
    expect(lines.map((line) => [line.row, line.carries.map((each) => each.row)])).toEqual([
      ["C", ["C", "D"]],
      ["D", ["D", "C"]],
    ]);
    expect(lines[0]?.carries[1]?.carries.map((each) => each.row)).toEqual(["D", "D"]);
    expect(parseCascade("BR2", "A").lines[0]?.row).toBe("brake");
  });

  it("writes the short form that people write", () => {
    for (const text of [
      "2+2 3+2 2+2",
      "2x2+2 2",
      "4*(2+2)",
      "3",
      "(2)",
      "(1)",
      "1",
      "3x1",
      "2+1",
      "6x2+D2",
      "D(2+C1)",
    ])
      expect(writeCascade(parseCascade(text, "C").lines, "C")).toBe(text);
  });

  it("reads what it writes as the same cascade, for any cascade of four tiers", () => {
    const random = randomFrom(20260314);
    let tabs = 0;
    for (let i = 0; i < 500; i++) {
      const row = random.pick(["A", "B", "C", "D", "tip", "brake"] as const);
      const lines = Array.from({ length: random.whole(1, 4) }, () => randomBranch(random, row, 1));
      const text = writeCascade(lines, row);
      const read = parseCascade(text, row);
      expect(read.faults, text).toEqual([]);
      expect(read.lines.map(plain), text).toEqual(lines.map(plain));
      tabs += lines.reduce((sum, line) => sum + tabsOf(line), 0);
    }
    expect(tabs).toBeGreaterThan(2000);
  });

  it.each<[string, number, RegExp, Shape[]]>([
    ["2+", 1, /nothing behind "\+"/, [[1, 1]]],
    [
      "2+2 (2+2",
      4,
      /bracket that isn’t closed/,
      [
        [
          [1, 1],
          [1, 1],
        ],
        [
          [1, 1],
          [1, 1],
        ],
      ],
    ],
    [
      "2+2)",
      3,
      /without its opening bracket/,
      [
        [
          [1, 1],
          [1, 1],
        ],
      ],
    ],
    ["2 ()", 2, /bracket with nothing in it/, [[1, 1]]],
    [
      "2 & 3",
      2,
      /found "&"/,
      [
        [1, 1],
        [1, 1, 1],
      ],
    ],
    ["0+2", 0, /at least one/, [[1, [1, 1]]]],
    ["3x", 0, /found "3x" at the end/, []],
    ["2 99999999", 2, /at most 200 tabs/, [[1, 1], 1]],
    ["((((2))))", 4, /fifth tier/, [[[[[[1, 1]]]]]]],
    [
      "2+E2",
      1,
      /nothing behind/,
      [
        [1, 1],
        [1, 1],
      ],
    ],
    ["2*", 0, /nothing to stand 2 times/, []],
  ])("tells what is wrong with %j at character %i and draws the rest", (text, at, message, rest) => {
    const { lines, faults } = parseCascade(text, "A");
    expect(faults[0]?.at).toBe(at);
    expect(faults[0]?.message).toMatch(message);
    if (!/fifth/.test(message.source)) expect(lines.map(shape)).toEqual(rest);
  });

  it("never throws and never runs away, whatever is typed", () => {
    const random = randomFrom(7);
    for (let i = 0; i < 3000; i++) {
      const text = Array.from({ length: random.whole(0, 14) }, () =>
        random.pick([..."0123456789+*x() ABDTR,&"]),
      ).join("");
      const { lines } = parseCascade(text, "B");
      expect(lines.reduce((sum, line) => sum + tabsOf(line), 0)).toBeLessThan(1000);
    }
  });
});
