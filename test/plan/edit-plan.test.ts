import { describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { planDiff } from "../../src/plan/draft/index.ts";
import { editChanges } from "../../src/plan/edit-diff.ts";
import {
  addOps,
  addTabOps,
  hangingAbove,
  removeLineOps,
  renameOps,
  sidesApartOps,
  tierOps,
  totalsInStepOps,
  totalsMm,
} from "../../src/plan/edit-plan.ts";
import { type EditOp, fieldOps, inverted, listAt, valueAt, withOps } from "../../src/plan/edit-steps.ts";
import { parsePlan } from "../../src/plan/index.ts";
import { samplePlan as plan } from "./factory.ts";

const LINES = ["sides", "mirrored", "lines"];
const TABS = ["sides", "mirrored", "tabs"];
const at = (base: unknown, id: string): number => listAt(base, LINES).findIndex((line) => line.id === id);
const school: unknown = DEMOS.school.plan;

/** Steps one after the other, each made for the plan that those before left. */
function through(base: unknown, ...makes: ((now: unknown) => readonly EditOp[])[]): readonly EditOp[] {
  const ops: EditOp[] = [];
  for (const make of makes) ops.push(...make(withOps(base, ops)));
  return ops;
}

describe("steps of an edit", () => {
  it("give every plan back as it was when they are undone, whatever they did", () => {
    const base: unknown = plan();
    const ops = through(
      base,
      (now) => fieldOps(now, [...LINES, 0, "lengthMm"], "4 6oo"),
      (now) => fieldOps(now, [...LINES, 0, "loop", "takeUpMm"], undefined),
      (now) => fieldOps(now, [...LINES, 0, "loop", "name"], undefined),
      (now) => fieldOps(now, [...LINES, 3, "loop", "name"], "girth hitch"),
      (now) => renameOps(now, "lines", "mirrored", at(now, "A1"), "inner A"),
      (now) => renameOps(now, "materials", "mirrored", 0, "lower"),
      (now) => renameOps(now, "risers", "mirrored", 0, "front"),
      (now) => removeLineOps(now, "mirrored", at(now, "B1"), true),
      (now) => addOps(now, "lines", "mirrored", 2),
      sidesApartOps,
    );
    expect(withOps(withOps(base, ops), inverted(ops))).toEqual(base);
  });

  it("leave no empty loop behind when its last field is emptied", () => {
    const base: unknown = plan();
    const ops = through(
      base,
      (now) => fieldOps(now, [...LINES, 0, "loop", "takeUpMm"], undefined),
      (now) => fieldOps(now, [...LINES, 0, "loop", "name"], undefined),
    );
    expect(listAt(withOps(base, ops), LINES)[0]).not.toHaveProperty("loop");
  });
});

describe("a renamed line", () => {
  it("keeps what hangs on it and its tab, so that the plan is as sound as before", () => {
    const base: unknown = plan();
    for (const id of ["A1", "A1.1", "A1.1.1"]) {
      const now = withOps(base, renameOps(base, "lines", "mirrored", at(base, id), "other"));
      expect(parsePlan(now).ok).toBe(true);
    }
  });

  it("leaves what refers to it where the new name is another line's already", () => {
    const base: unknown = plan();
    const now = withOps(base, renameOps(base, "lines", "mirrored", at(base, "A1"), "A2"));
    expect(listAt(now, LINES).filter((line) => line.hangsOn === "A1")).toHaveLength(2);
    expect(parsePlan(now).ok).toBe(false);
  });

  it("takes no maillon's name with its references, as a maillon goes before a line", () => {
    const base: unknown = plan();
    const now = withOps(base, renameOps(base, "lines", "mirrored", at(base, "A1"), "B"));
    expect(listAt(now, LINES).filter((line) => line.hangsOn === "A1")).toHaveLength(2);
  });
});

describe("parts", () => {
  it("keep what is on them when they are renamed: maillons, risers with the settings, materials", () => {
    const ops = through(
      school,
      (now) => renameOps(now, "risers", "mirrored", 3, "rear"),
      (now) => renameOps(now, "maillons", "mirrored", 3, "rear link"),
      (now) => renameOps(now, "materials", "mirrored", 0, "thick"),
    );
    const now = withOps(school, ops);
    expect(parsePlan(now).ok).toBe(true);
    expect(valueAt(now, ["brakes", "pulleyRiser"])).toBe("rear");
    expect(valueAt(now, ["settings", 0, "strapChangesMm"])).toEqual({ B: 12, C: 36, rear: 60 });
  });
});

describe("what hangs on a line", () => {
  it("is all lines and tabs above it, and goes with it when that is asked for", () => {
    const base: unknown = plan();
    const above = hangingAbove(base, "mirrored", "A1");
    expect(above.lines).toHaveLength(6);
    expect(above.tabs).toHaveLength(4);
    const now = withOps(base, removeLineOps(base, "mirrored", at(base, "A1"), true));
    expect(listAt(now, LINES)).toHaveLength(listAt(base, LINES).length - 7);
    expect(listAt(now, TABS)).toHaveLength(listAt(base, TABS).length - 4);
    expect(parsePlan(now).ok).toBe(true);
  });

  it("is left hanging, and told of, where only the line goes", () => {
    const base: unknown = plan();
    const now = withOps(base, removeLineOps(base, "mirrored", at(base, "A1"), false));
    const parsed = parsePlan(now);
    expect(parsed.ok).toBe(false);
    expect(parsed.problems.some(({ where }) => where.endsWith(".hangsOn"))).toBe(true);
  });
});

describe("a line hung elsewhere", () => {
  it("takes the tiers above with it", () => {
    const base: unknown = plan();
    const hung = fieldOps(base, [...LINES, at(base, "A1.1"), "hangsOn"], "A");
    const now = withOps(base, hung);
    const tiers = listAt(withOps(now, tierOps(now, "mirrored")), LINES)
      .filter(({ id }) => String(id).startsWith("A1.1"))
      .map(({ tier }) => tier);
    expect(tiers).toEqual([1, 2, 2]);
  });

  it("ends, however the lines hang on each other in a circle", () => {
    const base: unknown = plan();
    const now = withOps(base, fieldOps(base, [...LINES, at(base, "A1"), "hangsOn"], "A1.1"));
    expect(() => tierOps(now, "mirrored")).not.toThrow();
    expect(hangingAbove(now, "mirrored", "A1").lines.length).toBeGreaterThan(0);
    expect(totalsMm(now, "mirrored")({ line: "A1.1.1" })).toBeUndefined();
  });
});

describe("what is added", () => {
  it("has a name of its own, and a tab makes the added line sound", () => {
    const base: unknown = plan();
    const like = at(base, "A1.1.1");
    const ops = through(
      base,
      (now) => addOps(now, "lines", "mirrored", like),
      (now) => addTabOps(now, "mirrored", listAt(now, LINES)[like + 1] ?? {}),
    );
    const now = withOps(base, ops);
    const ids = listAt(now, LINES).map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    const added = String(ids[like + 1]);
    const about = (value: unknown): number =>
      parsePlan(value).problems.filter(({ subject }) => subject === added).length;
    expect(about(withOps(base, ops.slice(0, 1)))).toBeGreaterThan(0);
    expect(about(now)).toBe(0);
  });
});

describe("stated totals", () => {
  it("are the lines' sum as the plan's own reading makes it", () => {
    const wing = parsePlan(school);
    if (!wing.ok) throw new Error("The demo plan is faulty.");
    const totalOf = totalsMm(school, "mirrored");
    const byKey = new Map(wing.value.paths.map((path) => [path.tabKey, path.specifiedM]));
    for (const tab of listAt(school, TABS))
      expect(totalOf(tab)).toBeCloseTo(1000 * (byKey.get(`left:${tab.id}`) ?? Number.NaN), 6);
  });

  it("follow a length that was changed when they are brought in step, so that the plan is sound again", () => {
    const changed = withOps(school, fieldOps(school, [...LINES, 0, "lengthMm"], 4950));
    expect(parsePlan(changed).ok).toBe(false);
    expect(parsePlan(withOps(changed, totalsInStepOps(changed))).ok).toBe(true);
    expect(totalsInStepOps(school)).toEqual([]);
  });
});

describe("changes since the version before", () => {
  const base: unknown = plan();
  const edit = through(
    base,
    (now) => fieldOps(now, ["wing", "name"], "Another"),
    (now) => fieldOps(now, [...LINES, at(now, "A1"), "lengthMm"], 4612.5),
    (now) => renameOps(now, "lines", "mirrored", at(now, "B1"), "inner B"),
    (now) => renameOps(now, "materials", "mirrored", 1, "mid"),
    (now) => fieldOps(now, [...LINES, at(now, "inner B"), "lengthMm"], 4500),
    (now) => removeLineOps(now, "mirrored", at(now, "C1"), true),
    (now) => addOps(now, "lines", "mirrored", at(now, "A2")),
  );
  const now = withOps(base, edit);

  it("are told once each: what refers to a renamed line hasn't changed", () => {
    const told = editChanges(base, now, edit).map(
      ({ kind, list, id, field }) => `${kind} ${list ?? ""} ${id} ${field.join(".")}`,
    );
    expect(told.sort()).toEqual(
      [
        "changed   wing.name",
        "changed lines A1 lengthMm",
        "changed lines inner B id",
        "changed lines inner B lengthMm",
        "changed materials mid id",
        ...["C1", "C1.1", "C1.1.1", "C1.1.2", "C1.2", "C1.2.1", "C1.2.2"].map((id) => `removed lines ${id} `),
        ...["C1", "C2", "C3", "C4"].map((id) => `removed tabs ${id} `),
        "added lines A3 ",
      ].sort(),
    );
  });

  it("leave nothing when each is taken back, one after the other, in whatever order", () => {
    for (const last of [true, false]) {
      let ops = edit;
      for (let left = 40; left > 0; left--) {
        const changes = editChanges(base, withOps(base, ops), ops);
        const change = last ? changes.at(-1) : changes[0];
        if (change === undefined) break;
        expect(change.back.length).toBeGreaterThan(0);
        ops = [...ops, ...change.back];
      }
      const restored = withOps(base, ops);
      expect(editChanges(base, restored, ops)).toEqual([]);
      const [was, is] = [parsePlan(base), parsePlan(restored)];
      if (!was.ok || !is.ok) throw new Error("A sound plan became faulty.");
      expect(planDiff(was.value, is.value)).toEqual([]);
    }
  });

  it("name the same fields as the comparison of two sound plans does", () => {
    const steps = through(
      base,
      (each) => fieldOps(each, [...LINES, 0, "lengthMm"], 4605),
      (each) => fieldOps(each, [...LINES, 1, "colour"], "blue"),
      (each) => fieldOps(each, ["risers", 0, "lengthMm"], 475),
    );
    const changed = withOps(base, steps);
    const [was, is] = [parsePlan(base), parsePlan(changed)];
    if (!was.ok || !is.ok) throw new Error("The plans were meant to be sound.");
    const ids = (all: readonly { readonly id: string }[]): readonly string[] =>
      all.map(({ id }) => id).sort();
    expect(ids(editChanges(base, changed, steps))).toEqual(ids(planDiff(was.value, is.value)));
  });

  it("say that the sides were spelled out, and take that back with what was done to one of them", () => {
    const steps = through(base, sidesApartOps, (each) =>
      fieldOps(each, ["sides", "left", "lines", 0, "lengthMm"], 4590),
    );
    const apart = withOps(base, steps);
    const changes = editChanges(base, apart, steps);
    expect(changes.map(({ kind, half }) => [kind, half])).toEqual([
      ["sides apart", undefined],
      ["changed", "left"],
    ]);
    expect(withOps(apart, changes[0]?.back ?? [])).toEqual(base);
  });

  it("know a line that was renamed on one side only, before the sides were spelled out or after", () => {
    const steps = through(
      base,
      (each) => renameOps(each, "lines", "mirrored", at(each, "A1"), "first"),
      sidesApartOps,
      (each) => renameOps(each, "lines", "left", at(base, "B1"), "second"),
    );
    const told = editChanges(base, withOps(base, steps), steps).map(({ kind, half, id }) => [kind, half, id]);
    expect(told).toEqual([
      ["sides apart", undefined, ""],
      ["changed", "left", "first"],
      ["changed", "left", "second"],
      ["changed", "right", "first"],
    ]);
  });
});
