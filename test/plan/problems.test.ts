import { describe, expect, test } from "vitest";
import { parsePlan, parsePlanText } from "../../src/plan/index.ts";
import { line, only, placeOf, problemsAfter } from "./broken.ts";
import { samplePlan } from "./factory.ts";

describe("the shape of a plan file", () => {
  test("an unknown key is told by name, with the known ones, and the rest is still looked at", () => {
    const found = problemsAfter((plan, half) => {
      Object.assign(line(half, "A1.1.2"), { lenghtMm: 440 });
      plan.wing.allUpWeightKg = { min: 105, max: 80 };
    });
    expect(found.map((one) => one.where)).toEqual([
      `${placeOf("lines", "A1.1.2")}.lenghtMm`,
      "wing.allUpWeightKg",
    ]);
    expect(found[0]).toMatchObject({ severity: "error", subject: "A1.1.2" });
    expect(found[0]?.message).toContain('"lenghtMm" isn’t known here');
    expect(found[0]?.message).toContain("lengthMm");
  });

  test("a missing field is told with its meaning and unit", () => {
    const found = only(problemsAfter((plan) => delete (plan.reference as { tensionN?: number }).tensionN));
    expect(found.where).toBe("reference.tensionN");
    expect(found.message).toBe("tensionN is missing; a number was expected.");
    expect(found.remedy).toContain("[N]");
  });

  test("a number in quotation marks is told as what it is", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "B1"), { lengthMm: "4550" })));
    expect(found.message).toBe('lengthMm is "4550"; a number was expected.');
  });

  test("a length must be above zero", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "B1"), { lengthMm: -4550 })));
    expect(found.message).toBe("lengthMm is -4550; a number above 0 was expected.");
  });

  test("a name can't be empty", () => {
    const found = only(problemsAfter((plan) => Object.assign(plan.wing, { name: "" })));
    expect(found.message).toBe('name is ""; a text that isn’t empty was expected.');
  });

  test("a row that there isn't is told with those there are", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "B1"), { row: "E" })));
    expect(found.message).toContain('"A", "B", "C", "D", "tip" or "brake" was expected');
  });

  test("a fifth tier is told", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "B1"), { tier: 5 })));
    expect(found.message).toBe("tier is 5; at most 4 was expected.");
  });

  test("a rib is a whole number", () => {
    const found = only(problemsAfter((_, half) => Object.assign(half.tabs[0] ?? {}, { rib: 1.5 })));
    expect(found.message).toBe("rib is 1.5; a whole number was expected.");
  });

  test("an id with a space at its end would never be found again", () => {
    const found = only(problemsAfter((_, half) => Object.assign(half.tabs[0] ?? {}, { id: "A1 " })));
    expect(found.message).toContain("neither begins nor ends with a space");
  });

  test("faults within a half are told one by one, not as a fault of the sides", () => {
    const found = problemsAfter((_, half) => {
      Object.assign(line(half, "A1"), { lengthMm: null });
      Object.assign(line(half, "B1"), { material: 3 });
    });
    expect(found.map((one) => one.subject)).toEqual(["A1", "B1"]);
  });

  test("one side alone misses the other", () => {
    const found = only(problemsAfter((plan, half) => Object.assign(plan, { sides: { left: half } })));
    expect(found.where).toBe("sides.right");
    expect(found.message).toContain("right is missing");
  });

  test("a mirrored half and a side beside it contradict each other", () => {
    const found = only(problemsAfter((plan, half) => Object.assign(plan.sides, { left: half })));
    expect(found.where).toBe("sides.left");
    expect(found.remedy).toContain('Either "mirrored"'.toLowerCase());
  });

  test("something that is no plan at all is told in one sentence", () => {
    expect(only(parsePlan(undefined).problems).where).toBe("the whole file");
    expect(only(parsePlan([]).problems).message).toContain("an object was expected");
    expect(only(parsePlan("x").problems).severity).toBe("error");
  });

  test("an empty object is told all that a plan needs", () => {
    const where = parsePlan({}).problems.map((one) => one.where);
    for (const field of [
      "format",
      "version",
      "wing",
      "materials",
      "reference",
      "risers",
      "maillons",
      "sides",
    ]) {
      expect(where).toContain(field);
    }
  });
});

describe("another file or version", () => {
  test("a version that isn't understood says which are, and nothing else", () => {
    const found = only(parsePlan({ ...samplePlan(), version: 2, sides: "new" }).problems);
    expect(found).toMatchObject({ where: "version", severity: "error" });
    expect(found.message).toBe("The plan is of version 2; understood: 1.");
  });

  test("a file of another kind is told as such, and nothing else", () => {
    const found = only(parsePlan({ format: "linewright-check", version: 1, readings: [] }).problems);
    expect(found.where).toBe("format");
    expect(found.message).toContain("linewright-check");
  });
});

describe("a plan's text", () => {
  test("has the line behind every path", () => {
    const plan = samplePlan();
    Object.assign(line(plan.sides.mirrored, "A1"), { hangsOn: "Z" });
    const text = JSON.stringify(plan, null, 2);
    const found = only(parsePlanText(text).problems);
    const number = text.split("\n").findIndex((one) => one.includes('"hangsOn": "Z"')) + 1;
    expect(found.where).toBe(`sides.mirrored.lines[0].hangsOn (line ${number})`);
  });

  test("has the line of the object where a key is missing", () => {
    const plan = samplePlan();
    delete (plan.reference as { tensionN?: number }).tensionN;
    const text = JSON.stringify(plan, null, 2);
    const number = text.split("\n").findIndex((one) => one.includes('"reference"')) + 1;
    expect(only(parsePlanText(text).problems).where).toBe(`reference.tensionN (line ${number})`);
  });

  test("with a syntax error is told by line and column", () => {
    expect(only(parsePlanText('{ "format": "linewright-plan",\n "version": 1,, }').problems).where).toBe(
      "line 2, column 15",
    );
  });
});
