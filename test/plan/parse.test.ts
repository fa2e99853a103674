import { describe, expect, test } from "vitest";
import { parsePlan, parsePlanText, type Wing } from "../../src/plan/index.ts";
import { line, problemsAfter, tab } from "./broken.ts";
import { halfPlan, sampleBothSides, samplePlan, wingOf } from "./factory.ts";
import { randomFrom, randomPlan } from "./random.ts";

const lineOf = (wing: Wing, key: string) => wing.lines.find((one) => one.key === key);

describe("a sound plan", () => {
  test("has nothing said about it, from a value and from text", () => {
    expect(parsePlan(samplePlan())).toMatchObject({ ok: true, problems: [] });
    expect(parsePlanText(JSON.stringify(samplePlan()))).toMatchObject({ ok: true, problems: [] });
  });

  test("becomes a wing in SI units", () => {
    const plan = samplePlan();
    plan.reference.trimmerMm = 20;
    const wing = wingOf(plan);
    expect(lineOf(wing, "left:A1")).toEqual({
      key: "left:A1",
      id: "A1",
      side: "left",
      row: "A",
      tier: 1,
      hangsOn: { kind: "maillon", maillonId: "A" },
      carriesLines: ["left:A1.1", "left:A1.2"],
      carriesTabs: [],
      lengthM: 4.6,
      lengthAssumed: false,
      materialId: "sheathed 1.5",
      colour: "red",
      loopTakeUpM: 0.013,
      loopName: "girth hitch",
      mirrorKey: "right:A1",
    });
    expect(wing.risers[0]).toEqual({ id: "A", lengthM: 0.47 });
    expect(wing.maillons[0]).toEqual({ id: "A", riserId: "A", barDiameterM: 0.0045 });
    expect(wing.brakes).toEqual({ pulleyRiserId: "D", pulleyHeightM: 0.2, freeTravelM: 0.06 });
    expect(wing.reference).toEqual({ from: "riser", tensionN: 50, trimmerM: 0.02, note: undefined });
    expect(wing.materials[0]).toMatchObject({
      diameterM: 0.0015,
      stiffnessN: 40_000,
      massPerLengthKgM: 0.0016,
    });
  });

  test("has both sides spelled out, the left first, each the mirror partner of the other", () => {
    const wing = wingOf(samplePlan());
    const half = samplePlan().sides.mirrored;
    expect(wing.lines).toHaveLength(2 * half.lines.length);
    expect(wing.tabs).toHaveLength(2 * half.tabs.length);
    for (const one of [...wing.lines, ...wing.tabs]) {
      const partner = [...wing.lines, ...wing.tabs].find(
        (other) => other.key === one.mirrorKey && "lengthM" in other === "lengthM" in one,
      );
      expect(partner).toMatchObject({
        id: one.id,
        side: one.side === "left" ? "right" : "left",
        mirrorKey: one.key,
      });
    }
    expect(wing.tabs.map((one) => one.side)).toEqual([
      ...half.tabs.map(() => "left"),
      ...half.tabs.map(() => "right"),
    ]);
  });

  test("knows what each line carries from what hangs on it", () => {
    const wing = wingOf(samplePlan());
    expect(lineOf(wing, "right:A1.1")?.carriesLines).toEqual(["right:A1.1.1", "right:A1.1.2"]);
    expect(lineOf(wing, "right:A1.1.1")?.carriesTabs).toEqual(["right:A1"]);
    for (const one of wing.lines) {
      for (const key of one.carriesLines) {
        expect(lineOf(wing, key)?.hangsOn).toEqual({ kind: "line", lineKey: one.key });
      }
    }
  });

  test("a line that only one side has is without a partner", () => {
    const plan = sampleBothSides();
    plan.sides.left.lines.push({
      id: "A9",
      row: "A",
      tier: 1,
      hangsOn: "A",
      lengthMm: 6900,
      material: "bare 0.7",
    });
    plan.sides.left.tabs.push({ id: "A9", row: "A", rib: 17, line: "A9" });
    const parsed = parsePlan(plan);
    if (!parsed.ok) throw new Error("unequal sides are allowed");
    expect(parsed.problems.map((one) => one.severity)).toEqual(["warning"]);
    expect(lineOf(parsed.value, "left:A9")?.mirrorKey).toBeUndefined();
    expect(parsed.value.tabs.find((one) => one.key === "left:A9")?.mirrorKey).toBeUndefined();
  });

  test("isn't changed by being read", () => {
    const plan = samplePlan();
    parsePlan(plan);
    expect(plan).toEqual(samplePlan());
  });
});

describe("what a plan leaves out", () => {
  test("limits are common practice, and say so", () => {
    expect(wingOf(samplePlan()).tolerances).toEqual({
      pathM: 0.01,
      leftRightM: 0.005,
      rowToRowM: 0.01,
      minBrakeFreeTravelM: 0.05,
      source: "common practice",
    });
  });

  test("limits of the user's own are never called common practice", () => {
    const given = { ...samplePlan(), tolerances: { pathMm: 8 } };
    expect(wingOf(given).tolerances).toMatchObject({ pathM: 0.008, leftRightM: 0.005 });
    expect(wingOf(given).tolerances.source).not.toBe("common practice");
    const named = { ...samplePlan(), tolerances: { pathMm: 8, source: "manual, page 30" } };
    expect(wingOf(named).tolerances.source).toBe("manual, page 30");
  });

  test("a stiffness that had to be assumed is flagged", () => {
    const assumed = wingOf(samplePlan()).materials.map((one) => one.stiffnessAssumed);
    expect(assumed).toEqual([false, false, true]);
  });

  test("the canopy may be unknown altogether", () => {
    const { canopy: _canopy, ...plan } = samplePlan();
    const { canopy } = wingOf(plan);
    expect(canopy.flatAreaM2).toBeUndefined();
    expect(canopy.rowChordFractions).toEqual({});
  });

  test("a wing is a paraglider unless the plan says otherwise", () => {
    const plan = samplePlan();
    delete plan.wing.kind;
    expect(wingOf(plan).kind).toBe("paraglider");
    plan.wing.kind = "paramotor";
    expect(wingOf(plan).kind).toBe("paramotor");
  });
});

// Many rounds each: a busy machine may need longer than the runner's usual five seconds.
describe("any sound plan", { timeout: 60_000 }, () => {
  test("mirrored is the same wing as with both sides written out", () => {
    expect(wingOf(samplePlan())).toEqual(wingOf(sampleBothSides()));
    const random = randomFrom(5);
    for (let round = 0; round < 40; round++) {
      const plan = randomPlan(random);
      const half = "mirrored" in plan.sides ? plan.sides.mirrored : plan.sides.left;
      const once = wingOf({ ...plan, sides: { mirrored: half } });
      expect(wingOf({ ...plan, sides: { left: half, right: structuredClone(half) } })).toEqual(once);
    }
  });

  test("has the same paths in whatever order its lines stand", () => {
    const random = randomFrom(7);
    const byTab = (wing: Wing) => new Map(wing.paths.map((path) => [path.tabKey, path]));
    for (let round = 0; round < 40; round++) {
      const plan = round === 0 ? samplePlan() : randomPlan(random);
      const shuffled = structuredClone(plan);
      for (const half of Object.values(shuffled.sides)) {
        half.lines = random.shuffled(half.lines);
        half.tabs = random.shuffled(half.tabs);
      }
      expect(byTab(wingOf(shuffled))).toEqual(byTab(wingOf(plan)));
    }
  });

  test("has the same paths whatever its lines are called", () => {
    const random = randomFrom(8);
    for (let round = 0; round < 20; round++) {
      const plan = randomPlan(random);
      const renamed = structuredClone(plan);
      for (const half of Object.values(renamed.sides)) {
        const ids = half.lines.map((one) => one.id);
        const names = new Map(random.shuffled(ids).map((id, index) => [id, `line ${index}`]));
        for (const one of half.lines) {
          one.hangsOn = names.get(one.hangsOn) ?? one.hangsOn;
          one.id = names.get(one.id) ?? one.id;
        }
        for (const one of half.tabs) one.line = names.get(one.line) ?? one.line;
      }
      const totals = (wing: Wing) =>
        wing.paths.map((path) => [path.tabKey, path.specifiedM, path.lineKeys.length]);
      expect(totals(wingOf(renamed))).toEqual(totals(wingOf(plan)));
    }
  });

  test("broken at random is refused with a reason or built without a fault", () => {
    const random = randomFrom(13);
    for (let round = 0; round < 150; round++) {
      const plan = random.next() < 0.5 ? samplePlan() : sampleBothSides();
      const half = random.pick(Object.values(plan.sides));
      for (let faults = random.whole(1, 4); faults > 0; faults--) {
        const one = random.pick(half.lines);
        const end = random.pick(half.tabs);
        const other = random.pick(half.lines);
        const breaks = [
          () => Object.assign(one, { hangsOn: other.id }),
          () => Object.assign(one, { hangsOn: random.pick(["pulley", "A", "nowhere"]) }),
          () => Object.assign(one, { id: other.id }),
          () => Object.assign(one, { tier: random.whole(1, 4) }),
          () => Object.assign(one, { row: other.row }),
          () => Object.assign(one, { lengthMm: one.lengthMm * random.pick([0.001, 0.1, 0.5, 2, 10]) }),
          () => Object.assign(one, { material: "string" }),
          () => Object.assign(end, { line: other.id }),
          () => Object.assign(end, { line: "nowhere" }),
          () => Object.assign(end, { rib: random.whole(1, 30), row: other.row }),
          () => Object.assign(plan, { maillons: plan.maillons.slice(1) }),
          () => half.lines.splice(random.whole(0, half.lines.length - 1), 1),
          () => half.tabs.splice(random.whole(0, half.tabs.length - 1), 1),
          () => plan.maillons.push({ id: one.id, riser: "A" }),
        ];
        random.pick(breaks)();
      }
      const parsed = parsePlan(plan);
      if (parsed.ok) {
        expect(parsed.value.paths).toHaveLength(parsed.value.tabs.length);
        expect(parsed.problems.every((one) => one.severity === "warning")).toBe(true);
      } else {
        expect(parsed.problems.some((one) => one.severity === "error")).toBe(true);
      }
      const unfit = parsed.problems.filter(
        ({ message, remedy }) =>
          !/^[A-Z].*\.$/.test(message) ||
          !/^[A-Z].*[.?]$/.test(remedy) ||
          /undefined|NaN|\[object/.test(message + remedy),
      );
      expect(unfit).toEqual([]);
    }
  });
});

describe("a tip line", () => {
  test("hangs on a maillon of another row's riser", () => {
    const wing = wingOf(samplePlan());
    const path = wing.paths.find((one) => one.tabKey === "left:T1");
    expect(path).toMatchObject({
      row: "tip",
      riserId: "B",
      maillonId: "B tip",
      lineKeys: ["left:T1", "left:T1.1"],
    });
  });

  test("may share a row's maillon", () => {
    expect(
      problemsAfter((plan, half) => {
        plan.maillons = plan.maillons.filter((one) => one.id !== "B tip");
        line(half, "T1").hangsOn = "B";
      }),
    ).toEqual([]);
  });
});

describe("the sample's own tabs", () => {
  test("have a chord fraction where the plan gives them one", () => {
    const half = halfPlan();
    expect(tab(half, "T1").chordFraction).toBe(0.3);
    const wing = wingOf(samplePlan());
    expect(wing.tabs.find((one) => one.key === "left:T1")?.chordFraction).toBe(0.3);
    expect(wing.tabs.find((one) => one.key === "left:A1")?.chordFraction).toBeUndefined();
  });
});
