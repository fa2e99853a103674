/**
 * Tables as anybody might write them, drawn at random: what is read must be what was written, or be reported.
 */
import { expect, it } from "vitest";
import { parseReadingsCsv } from "../../src/readings/index.ts";
import { FRAME, testWing } from "./wing.ts";

const wing = testWing();
/** A tab's specified length [m], looked up once. */
const specifiedM = new Map(wing.paths.map((path) => [path.tabKey, path.specifiedM]));

const PER_METRE = { mm: 1000, cm: 100, m: 1 } as const;
const DECIMALS = { mm: 1, cm: 2, m: 4 } as const;

/** mulberry32: the same draws on every machine. */
function draws(seed: number) {
  let state = seed;
  const next = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  const pick = <T>(...choices: readonly T[]): T => {
    const choice = choices[Math.floor(next() * choices.length)];
    if (choice === undefined) throw new Error("nothing to pick from");
    return choice;
  };
  return { next, pick };
}

interface Written {
  readonly text: string;
  /** Tab and side → length [m]. */
  readonly lengthsM: ReadonlyMap<string, number>;
}

/** One table in one person's habits, with lengths to a tenth of a millimetre within 60 mm of the plan's. */
function writeTable(seed: number): Written {
  const { next, pick } = draws(seed);
  const delimiter = pick(",", ";", "\t");
  const mark = pick(",", ".");
  const unit = pick("mm", "cm", "m");
  const group = unit === "mm" ? pick("", "", " ", "'", mark === "," ? "." : ",") : "";
  const fixed = pick(0, 1);
  const says = pick("heading", "cell", "column", "nobody");
  const wide = pick(true, false);
  const lineBreak = pick("\r\n", "\n", "\r");
  const lengthsM = new Map<string, number>();

  const quoted = (cell: string): string => (cell.includes(delimiter) || next() < 0.1 ? `"${cell}"` : cell);
  const cellOf = (lengthM: number): string => {
    const [whole = "", fraction] = (lengthM * PER_METRE[unit])
      .toFixed(DECIMALS[unit] - (unit === "mm" ? fixed : 0))
      .split(".");
    const grouped = whole.length > 3 ? `${whole.slice(0, -3)}${group}${whole.slice(-3)}` : whole;
    return `${grouped}${fraction === undefined ? "" : mark + fraction}${says === "cell" ? ` ${unit}` : ""}`;
  };
  const lengthOf = (shouldBeM: number): number => {
    const tenths = unit === "mm" && fixed === 1 ? 1000 : 10_000;
    return Math.round((shouldBeM + (next() - 0.5) * 0.12) * tenths) / tenths;
  };
  const heading = (word: string): string => (says === "heading" ? `${word} [${unit}]` : word);
  const unitCell = says === "column" ? [unit] : [];
  const unitHeading = says === "column" ? ["unit"] : [];
  const name = (id: string): string => pick(id, id.toLowerCase(), id.replace(/(?=\d)/u, pick(" ", "-", "0")));

  const rows: string[][] = [];
  const left = wing.tabs.filter((tab) => tab.side === "left");
  if (wide) rows.push(["Tab", heading("left"), heading("right"), ...unitHeading]);
  else rows.push(["tab", "side", heading("reading"), ...unitHeading]);
  for (const tab of left) {
    const cells = (["left", "right"] as const).map((side) => {
      if (next() < 0.2) return { side, text: "" };
      const lengthM = lengthOf(specifiedM.get(tab.key) ?? Number.NaN);
      lengthsM.set(`${side}:${tab.id}`, lengthM);
      return { side, text: cellOf(lengthM) };
    });
    if (wide) rows.push([name(tab.id), ...cells.map((cell) => cell.text), ...unitCell]);
    else for (const { side, text } of cells) rows.push([name(tab.id), side, text, ...unitCell]);
  }
  const text = rows.map((row) => row.map(quoted).join(delimiter)).join(lineBreak);
  return { text: (pick("", "\uFEFF") + text).concat(pick("", lineBreak)), lengthsM };
}

it("every one of 300 tables in as many habits is read as it was meant", () => {
  for (let seed = 1; seed <= 300; seed++) {
    const { text, lengthsM } = writeTable(seed);
    const parsed = parseReadingsCsv(text, wing, FRAME);
    if (!parsed.ok) throw new Error(`seed ${seed}\n${text}\n${JSON.stringify(parsed.problems, null, 1)}`);
    const read = parsed.value.readings.map(({ target, valuesM }) => [
      `${target.side}:${target.id}`,
      ...valuesM.map((valueM) => valueM.toFixed(7)),
    ]);
    const written = [...lengthsM].map(([key, lengthM]) => [key, lengthM.toFixed(7)]);
    expect(read.sort(), `seed ${seed}\n${text}`).toEqual(written.sort());
    expect(
      parsed.problems.filter((problem) => !/without a unit/u.test(problem.message)),
      `seed ${seed}\n${text}`,
    ).toEqual([]);
  }
}, 60_000);

it("no character lost or doubled in a table makes a reading that isn't within a quarter of the plan's length", () => {
  let read = 0;
  for (let seed = 1; seed <= 200; seed++) {
    const { next, pick } = draws(10_000 + seed);
    const { text } = writeTable(seed);
    const at = Math.floor(next() * text.length);
    const broken =
      text.slice(0, at) + pick("", text.charAt(at).repeat(2), '"', ";", ",") + text.slice(at + 1);
    const parsed = parseReadingsCsv(broken, wing, FRAME);
    if (!parsed.ok) {
      expect(parsed.problems[0]?.severity).toBe("error");
      continue;
    }
    const far = parsed.value.readings.filter(({ target, valuesM }) => {
      const shouldBeM = specifiedM.get(`${target.side}:${target.id}`) ?? Number.NaN;
      return !valuesM.every((valueM) => Math.abs(valueM - shouldBeM) <= 0.25 * shouldBeM);
    });
    expect(far, broken).toEqual([]);
    read += parsed.value.readings.length;
  }
  expect(read).toBeGreaterThan(1000);
}, 60_000);
