import { describe, expect, it } from "vitest";
import { run } from "./io.ts";
import { checkFile, readings, smallPlan, smallWing } from "./wing.ts";

interface Shape {
  state: string;
  weightKg: number;
  converged: boolean;
  changesMm: Record<string, number>;
  nodes: { name: string; kind: string; positionM: [number, number, number] }[];
  lines: Record<string, { tensionN: number; lengthMm: number; slack: boolean }>;
  ribs: { side: string; rib: number; incidenceDeg: number; heaveMm: number }[];
  fit: { misfitMm: Record<string, number>; largestRemainderMm: number; parameters: { origin: string }[] };
  balance: { forceN: number[]; momentNm: number[]; weightN: number };
  caution: string;
}

const files = {
  "plan.json": JSON.stringify(smallPlan),
  "exact.json": checkFile(readings(() => 0)),
  "rear-long.json": checkFile(readings(({ row }) => (row === "C" ? 10 : 0))),
};

const done = new Map<string, Promise<Shape>>();

/** The shape as JSON; the same one isn't made twice. */
function shape(...options: string[]): Promise<Shape> {
  const make = async (): Promise<Shape> => {
    const { code, out, err } = await run(["shape", "plan.json", ...options], files);
    expect([code, err]).toEqual([0, ""]);
    return JSON.parse(out) as Shape;
  };
  const found = done.get(options.join()) ?? make();
  done.set(options.join(), found);
  return found;
}

const incidences = (found: Shape, side?: string): number[] =>
  found.ribs.filter((rib) => side === undefined || rib.side === side).map((rib) => rib.incidenceDeg);
const mean = (values: readonly number[]): number =>
  values.reduce((sum, each) => sum + each, 0) / values.length;

// Each builds a model or starts a program: slow where the machine is busy.
describe("linewright shape", { timeout: 60_000 }, () => {
  it("shows the specified wing: every line loaded or slack, both sides alike, nothing changed", async () => {
    const found = await shape();
    expect(found).toMatchObject({ state: "specified", converged: true, changesMm: {}, weightKg: 92.5 });
    expect(Object.keys(found.lines).sort()).toEqual(smallWing.lines.map((line) => line.key).sort());
    for (const line of smallWing.lines) {
      if (line.side !== "left" || line.mirrorKey === undefined) continue;
      const [one, other] = [found.lines[line.key], found.lines[line.mirrorKey]];
      expect(one?.tensionN).toBeCloseTo(other?.tensionN as number, 2);
    }
    const tabs = found.nodes.filter((node) => node.kind === "tab");
    expect(tabs.length).toBe(smallWing.tabs.length);
    for (const { name, positionM } of tabs) {
      const twin = tabs.find((node) => node.name === name.replace("left:", "right:"))?.positionM as [
        number,
        number,
        number,
      ];
      expect(Math.abs(twin[1])).toBeCloseTo(Math.abs(positionM[1]), 4);
      expect(positionM[2]).toBeGreaterThan(2);
    }
    for (const { incidenceDeg, heaveMm } of found.ribs) {
      expect(incidenceDeg).toBe(0);
      expect(heaveMm).toBe(0);
    }
    expect(found.fit.largestRemainderMm).toBeLessThan(0.1);
    expect(found.caution).toMatch(/not a clearance to fly/);
  });

  it("balances the weight at the carabiners", async () => {
    const { balance } = await shape("--weight", "100");
    expect(balance.weightN).toBeCloseTo(980.665, 2);
    for (const component of balance.forceN) expect(Math.abs(component)).toBeLessThan(1e-4);
    for (const component of balance.momentNm) expect(Math.abs(component)).toBeLessThan(0.5);
  });

  it("pulls harder on every lower line under more weight", async () => {
    const [light, heavy] = [await shape("--weight", "80"), await shape("--weight", "100")];
    const lower = smallWing.lines.filter((line) => line.tier === 1 && line.row !== "brake");
    const sum = (found: Shape): number =>
      lower.reduce((total, line) => total + (found.lines[line.key]?.tensionN ?? 0), 0);
    expect(sum(heavy) / sum(light)).toBeCloseTo(1.25, 1);
  });

  it("turns the nose up, on both sides alike, when the rear row is shortened", async () => {
    const found = await shape("--change", "row:C=-12");
    expect(found.state).toBe("changed");
    expect(found.changesMm).toEqual({ "left:C1": -12, "left:C2": -12, "right:C1": -12, "right:C2": -12 });
    for (const incidence of incidences(found)) expect(incidence).toBeGreaterThan(0.05);
    expect(mean(incidences(found, "left"))).toBeCloseTo(mean(incidences(found, "right")), 3);
  });

  it("turns mostly the side whose line was changed", async () => {
    const found = await shape("--change", "left:A1=8", "--change", "left:A2=8");
    const [left, right] = [mean(incidences(found, "left")), mean(incidences(found, "right"))];
    expect(left).toBeGreaterThan(0.1);
    expect(Math.abs(right)).toBeLessThan(0.25 * left);
  });

  it("shows readings without a deviation as the specified wing", async () => {
    const found = await shape("--readings", "exact.json");
    expect(found.state).toBe("measured");
    for (const incidence of incidences(found)) expect(Math.abs(incidence)).toBeLessThan(0.005);
  });

  it("adds a change to what was measured: long rear lines, taken in again", async () => {
    const measured = await shape("--readings", "rear-long.json");
    expect(mean(incidences(measured))).toBeLessThan(-0.1);
    const mended = await shape("--readings", "rear-long.json", "--change", "row:C=-10");
    expect(mended.state).toBe("changed");
    expect(Math.abs(mean(incidences(mended)))).toBeLessThan(0.1 * Math.abs(mean(incidences(measured))));
    const before = await shape("--readings", "rear-long.json", "--state", "specified");
    expect(mean(incidences(before))).toBe(0);
  });

  it("writes ribs and tensions as a table that ends with the caution to the file it is told", async () => {
    const argv = ["shape", "plan.json", "--table", "--change", "A1=-10", "--out", "shape.txt"];
    const { code, out: printed, written } = await run(argv, files);
    expect([code, printed]).toEqual([0, ""]);
    const out = written.get("shape.txt") ?? "";
    expect(out).toMatch(/^left:A1 +−10\.0 +\d+\.\d$/m);
    expect(out).toMatch(/^right:A2 +- +\d+\.\d$/m);
    expect(out.trimEnd().split("\n\n").at(-1)).toMatch(/^Approximate model/);
  });

  it("refuses a plan with errors as JSON, unless a table was asked for", async () => {
    const broken = { "plan.json": '{"format": "linewright-plan"}' };
    const json = await run(["shape", "plan.json"], broken);
    expect(json.code).toBe(1);
    expect(JSON.parse(json.out)).toMatchObject({ ok: false, input: "plan" });
    const text = await run(["shape", "plan.json", "--table"], broken);
    expect([text.code, text.out]).toEqual([1, ""]);
  });

  it.each([
    [["--change", "Z9=3"], /no line "Z9"/],
    [["--change", "A1=lots"], /is not a number of mm/],
    [["--change", "A1=-99999"], /leaves left:A1 with no length/],
    [["--weight", "-5"], /--weight must be above 0 kg/],
    [["--readings", "nowhere.json"], /can’t read nowhere.json/],
  ])("calls %j wrong usage", async (options, message) => {
    const { code, out, err } = await run(["shape", "plan.json", ...options], files);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(message);
  });
});
