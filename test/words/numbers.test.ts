import { afterEach, describe, expect, it } from "vitest";
import {
  catalogueOf,
  decimalMark,
  fixed,
  fromUnit,
  inUnit,
  languageFor,
  length,
  lengthNumber,
  listed,
  localeOf,
  longDate,
  say,
  sayParts,
  signedFixed,
  signedLength,
  speak,
  trimmed,
  trimmedLength,
  typedLength,
} from "../../src/words/index.ts";

afterEach(() => speak());

describe("numbers", () => {
  it("have the true minus sign, fixed decimals and no grouping", () => {
    expect(fixed(-12345.678, 1)).toBe("−12345.7");
    expect(signedFixed(3, 0)).toBe("+3");
  });

  it("carry no sign where they round to zero", () => {
    expect(signedFixed(-0.04, 1)).toBe("0.0");
    expect(fixed(-0.4, 0)).toBe("0");
    expect(signedLength(0.0004)).toBe("0 mm");
  });

  it("round as the figure in English does, whatever the language", async () => {
    const values = [1.005, 2.5, -0.125, 12.345, 8.575];
    const english = values.map((value) => fixed(value, 2));
    speak({ language: "de", locale: "de-DE", catalogue: await catalogueOf("de") });
    expect(values.map((value) => fixed(value, 2).replace(",", "."))).toEqual(english);
    expect(english).toEqual(values.map((value) => value.toFixed(2).replace("-", "−")));
  });

  it("have the decimal mark of the person’s region, within the language", () => {
    speak({ language: "de", locale: localeOf("de", ["en-US", "de-CH"]) });
    expect(decimalMark()).toBe(".");
    speak({ language: "de", locale: localeOf("de", ["en-US"]) });
    expect(decimalMark()).toBe(",");
  });
});

describe("lengths", () => {
  it("are written in millimetres at first", () => {
    expect(signedLength(-0.012)).toBe("−12 mm");
    expect(lengthNumber(7.421)).toBe("7421");
  });

  it("carry no idle zeros where none are wanted", () => {
    expect([trimmed(4.5, 2), trimmed(10, 1), trimmedLength(-0.0045)]).toEqual(["4.5", "10", "−4.5 mm"]);
    expect([typedLength(7.421), typedLength(7.4215)]).toEqual(["7421 mm", "7421.5 mm"]);
  });

  it("are written in inches of 25.4 mm (international yard and pound agreement, 1959) where asked, two decimals finer", () => {
    speak({ unit: "in" });
    expect(length(0.0254)).toBe("1.00 in");
    expect(signedLength(-0.012, 1)).toBe("−0.472 in");
    expect(inUnit(1)).toBeCloseTo(39.37007874015748, 12);
    expect(fromUnit(inUnit(0.0123))).toBeCloseTo(0.0123, 15);
  });
});

describe("dates and names in a row", () => {
  it("are the language’s", async () => {
    expect(longDate("2026-03-14T10:00")).toBe("14 March 2026");
    expect(longDate("soon")).toBe("soon");
    expect(longDate("2026-02-30")).toBe("2026-02-30");
    expect(listed(["A", "B", "C"])).toBe("A, B and C");
    speak({ language: "fr", locale: "fr-FR", catalogue: await catalogueOf("fr") });
    expect(longDate("2026-03-14")).toBe("14 mars 2026");
    expect(listed(["A", "B"], "or")).toBe("A ou B");
  });
});

describe("the language at first", () => {
  it("is the first of the person’s own that there is, or English", () => {
    expect(languageFor(["it-IT", "fr-CA", "de"])).toBe("fr");
    expect(languageFor(["pt"])).toBe("en");
    expect(languageFor([])).toBe("en");
  });
});

describe("a text", () => {
  it("comes in the language that is set, and in English again after", async () => {
    speak({ language: "de", locale: "de-DE", catalogue: await catalogueOf("de") });
    expect(say("units.inches")).toBe("Zoll");
    speak();
    expect(say("units.inches")).toBe("Inches");
  });

  it("is refused where a place has no value: half a sentence could mislead", () => {
    speak({ catalogue: { ...speakable, "units.mm": "{figure} mm" } });
    expect(() => say("units.mm")).toThrow(/figure/);
    expect(say("units.mm", { figure: "3" })).toBe("3 mm");
  });

  it("comes in parts where a place is no text", () => {
    speak({ catalogue: { ...speakable, "units.mm": "before {mark} after" } });
    const mark = { kind: "element" };
    expect(sayParts("units.mm", { mark })).toEqual(["before ", mark, " after"]);
  });
});

const speakable = await catalogueOf("en");
