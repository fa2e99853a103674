import { describe, expect, it } from "vitest";
import { understand } from "../../../src/readings/session/index.ts";

const EXPECTED = { valueM: 7.425, lowM: 7.385, highM: 7.465 };
const lengths = (text: string, expected: typeof EXPECTED | undefined = EXPECTED) => {
  const found = understand(text, expected);
  return found.kind === "lengths" ? found.valuesM : found.kind;
};

describe("a number as a hand or a meter types it", () => {
  it.each([
    "7421",
    "7.421",
    "7,421",
    "742.1 cm",
    "742,1cm",
    " 7421 mm\r",
    "+7421",
    "7 421",
    "7'421",
    "7421.",
    "7421.0",
    "0007421",
    "7421mm\r\n",
    "7.421m",
    "7.4210 m",
    "D= 7.421 m",
    "+0007421.mm",
    "\u00027421\u0003",
    "A1: 7421",
    "A1 7 421 mm",
    "Dist 7.421 m, T 21.3 C",
    "7421",
    "742.1",
  ])("is 7421 mm where it says %j", (text) => {
    expect(lengths(text)).toEqual([7.421]);
  });

  it("stays to the tenth of a millimetre where it is said so", () => {
    expect(lengths("7421.5")).toEqual([7.4215]);
    expect(lengths("742.15 cm")).toEqual([7.4215]);
  });

  it.each([
    ["7421 7422", [7.421, 7.422]],
    ["7421, 7422", [7.421, 7.422]],
    ["7421,7422", [7.421, 7.422]],
    ["7421;7422;7420", [7.421, 7.422, 7.42]],
    ["7.421 7.422", [7.421, 7.422]],
    ["7,421 / 7,422 m", [7.421, 7.422]],
    ["7421 and 7422", [7.421, 7.422]],
  ])("is several repeats where it says %j", (text, valuesM) => {
    expect(lengths(text)).toEqual(valuesM);
  });

  it("is the one of a meter's numbers that the line could read, and says so", () => {
    expect(understand("17 7.421 98", EXPECTED)).toEqual({
      kind: "lengths",
      valuesM: [7.421],
      taken: "one of several numbers",
    });
    expect(understand("17 7.421 7.100", EXPECTED).kind).toBe("unsure");
  });

  it("tells which unit was guessed", () => {
    expect(understand("742.1", EXPECTED)).toMatchObject({ taken: "centimetres" });
    expect(understand("7.42", EXPECTED)).toMatchObject({ valuesM: [7.42], taken: "metres" });
    expect(understand("7.421", EXPECTED)).toMatchObject({ taken: undefined });
  });

  it.each(["", "  ", "seven", "A1", "-7421", "0", "mm", "\r\n"])("is no length where it says %j", (text) => {
    expect(lengths(text)).toBe("no length");
  });

  it("is taken as it stands where it can't be the line's: what is wrong with it is for the judge to say", () => {
    expect(lengths("74211")).toEqual([74.211]);
    expect(lengths("921 mm")).toEqual([0.921]);
  });

  it("is taken as it stands where nothing is known of the line", () => {
    expect(understand("7421", undefined)).toMatchObject({ valuesM: [7.421] });
    expect(understand("7421 35", undefined).kind).toBe("unsure");
  });

  it("isn't slowed down or broken by a megabyte of noise", () => {
    expect(lengths("7 ".repeat(500_000))).not.toEqual([7.421]);
  });
});

describe("the last three digits alone", () => {
  it("stand for the length near what is expected, marked as such", () => {
    expect(understand("421", EXPECTED)).toEqual({
      kind: "lengths",
      valuesM: [7.421],
      taken: "last three digits",
    });
    expect(lengths("398", EXPECTED)).toEqual([7.398]);
    expect(lengths("421 422")).toEqual([7.421, 7.422]);
  });

  it("reach over a full metre", () => {
    const expected = { valueM: 7.01, lowM: 6.97, highM: 7.05 };
    expect(lengths("995", expected)).toEqual([6.995]);
    expect(lengths("005", expected)).toEqual([7.005]);
  });

  it("are never chosen silently halfway between two lengths", () => {
    const found = understand("921", EXPECTED);
    expect(found).toMatchObject({ kind: "unsure" });
    expect(found.kind === "unsure" && found.candidates.map(({ valueM }) => valueM)).toEqual([7.921, 6.921]);
  });

  it("nor where a lost key would explain them better", () => {
    // 772 could be 7772, but as well 7721 without its last digit.
    const expected = { valueM: 7.725, lowM: 7.7, highM: 7.75 };
    expect(understand("772", expected).kind).toBe("unsure");
  });

  it("are the whole length of a line that is that short", () => {
    const expected = { valueM: 0.43, lowM: 0.4, highM: 0.46 };
    expect(understand("421", expected)).toMatchObject({ valuesM: [0.421], taken: undefined });
  });
});
