import { describe, expect, it } from "vitest";
import type { Wing } from "../../src/plan/index.ts";
import { lookUpNames, matchName, resolveTarget } from "../../src/readings/index.ts";
import { testWing, unevenWing } from "./wing.ts";

/** The test wing with other names for its tabs on the left. */
function named(...ids: readonly string[]): Wing {
  const wing = testWing();
  const [first] = wing.tabs;
  if (first === undefined) throw new Error("no tabs");
  return { ...wing, tabs: ids.map((id) => ({ ...first, id, key: `left:${id}` })) };
}

describe("a name as it was called out", () => {
  const lookup = lookUpNames(testWing());

  it.each(["A1", "a1", "A 1", " A1 ", "A-1", "A–1", "A_1", "a.1", "A01", "A 01", "A\u00a01", "Ａ１"])(
    "%j means A1",
    (spelling) => {
      expect(matchName(lookup, "tab", "left", spelling)).toEqual({ found: "one", id: "A1" });
    },
  );

  it.each(["A", "1", "A10", "A11", "C1", "", "A1.1"])("%j means nothing on this wing", (spelling) => {
    expect(matchName(lookup, "tab", "left", spelling)).toEqual({ found: "none" });
  });

  it("is taken as written before it is taken leniently", () => {
    const strict = lookUpNames(named("A1", "A01", "a1"));
    for (const id of ["A1", "A01", "a1"])
      expect(matchName(strict, "tab", "left", id)).toEqual({ found: "one", id });
  });

  it("that could be two tabs is neither", () => {
    expect(matchName(lookUpNames(named("A1", "a1")), "tab", "left", "A 1")).toEqual({
      found: "several",
      ids: ["A1", "a1"],
    });
    expect(matchName(lookUpNames(named("A1", "A01")), "tab", "left", "A-1")).toEqual({
      found: "several",
      ids: ["A1", "A01"],
    });
  });

  it("keeps its numbers apart: A1.2 isn't A12", () => {
    const dotted = lookUpNames(named("A1.2"));
    expect(matchName(dotted, "tab", "left", "A12")).toEqual({ found: "none" });
    expect(matchName(dotted, "tab", "left", "A1 2")).toEqual({ found: "one", id: "A1.2" });
    expect(matchName(dotted, "tab", "left", "a1-2")).toEqual({ found: "one", id: "A1.2" });
    expect(matchName(lookUpNames(named("A12", "A1.2")), "tab", "left", "A1-2")).toEqual({
      found: "one",
      id: "A1.2",
    });
  });
});

describe("what a name stands for", () => {
  it("is a tab first where the kind isn't said, and a line if no tab has the name", () => {
    const lookup = lookUpNames(testWing());
    expect(resolveTarget(lookup, "name", "A1", "left")).toEqual({
      ok: true,
      target: { kind: "tab", id: "A1", side: "left" },
    });
    expect(resolveTarget(lookup, "name", "AM1", "left")).toEqual({
      ok: true,
      target: { kind: "line", id: "AM1", side: "left" },
    });
  });

  it("says when the name is of the other kind", () => {
    const result = resolveTarget(lookUpNames(testWing()), "tab", "AM1", "left");
    expect(result).toMatchObject({
      ok: false,
      message: expect.stringContaining("it has a line of that name"),
    });
  });

  it("says when the tab is only on the other side", () => {
    const result = resolveTarget(lookUpNames(unevenWing()), "tab", "A4", "right");
    expect(result).toMatchObject({ ok: false, message: expect.stringContaining("only on the left") });
  });

  it("lists what the plan has when nothing fits", () => {
    const result = resolveTarget(lookUpNames(testWing()), "tab", "C7", "left");
    expect(result).toMatchObject({ ok: false, message: expect.stringMatching(/"C7".*on the left.*A1, A2/u) });
  });
});
