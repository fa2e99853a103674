/**
 * The model against figures of an independent calculation: another program, written by other hands in another language, for
 * a wing of four rows at 10, 30, 52 and 73 % chord, eight attached ribs a side, flat span 11.2 m, projected 8.85 m, root
 * chord 2.72 m, 95 kg. Its cascades, canopy stiffnesses and tip chord aren't known here, so its figures are held against as
 * orders of magnitude, with tolerances of about a fifth; where ours can't be expected to agree, that is said.
 *
 * The rest are rules of the trade: common practice, no source.
 */
import { describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { buildWingModel } from "../../src/geometry/build.ts";
import { incidenceFromRowDifference } from "../../src/geometry/rigging.ts";
import type { Line } from "../../src/plan/model.ts";
import { FOUR_ROW_WING, inventedWing } from "../geometry/invented-wing.ts";
import { bench, degrees } from "../geometry/states.ts";
import { wingOf } from "../plan/factory.ts";

const wing = inventedWing(FOUR_ROW_WING);
const model = buildWingModel(wing);
const attempt = bench(wing, model);
const lower = (line: Line, row: string): boolean => line.tier === 1 && line.row === row;
const RIBS = [2, 4, 6, 8, 10, 12, 14, 16];
const [CENTRE, TIP] = [2, 16];

describe("all C lower lines 12 mm and all D 18 mm short", () => {
  const trial = attempt((line) => (lower(line, "C") ? -0.012 : lower(line, "D") ? -0.018 : 0));

  // Independent: Newton converges in 5 to 6 iterations from the specified state.
  it("is solved from the specified state in a handful of Newton steps", () => {
    expect(trial.state.converged).toBe(true);
    expect(trial.state.iterations).toBeLessThanOrEqual(9);
  });

  // Independent: +0.65° at the centre, +1.0° at the tip. Measured here: 0.71° and 1.02°.
  it("turns the incidence by about +0.65° at the centre and +1.0° at the tip", () => {
    for (const side of ["left", "right"] as const) {
      expect(Math.abs(trial.incidence(side, CENTRE) - 0.65)).toBeLessThan(0.13);
      expect(Math.abs(trial.incidence(side, TIP) - 1)).toBeLessThan(0.2);
      for (const rib of RIBS) {
        expect(trial.incidence(side, rib)).toBeGreaterThan(0.55);
        expect(trial.incidence(side, rib)).toBeLessThan(1.15);
      }
    }
  });

  it("turns left and right evenly", () => {
    for (const rib of RIBS)
      expect(trial.incidence("left", rib)).toBeCloseTo(trial.incidence("right", rib), 6);
  });
});

describe("the left A lower lines 8 mm long", () => {
  const trial = attempt((line) => (lower(line, "A") && line.side === "left" ? 0.008 : 0));

  // Independent: left +0.24° at the centre to +0.40° at the tip. Measured here: 0.19° at the innermost rib, which the right
  // side holds back, 0.25° at the next, 0.41° at the tip.
  it("turns the left side by about +0.24° near the centre and +0.40° at the tip", () => {
    expect(Math.abs(trial.incidence("left", 4) - 0.24)).toBeLessThan(0.05);
    expect(Math.abs(trial.incidence("left", TIP) - 0.4)).toBeLessThan(0.08);
    for (const rib of RIBS) expect(trial.incidence("left", rib)).toBeGreaterThan(0.15);
  });

  // Independent: less than 0.04°. Measured here: 0.039° at the innermost rib, 0.03° and less farther out.
  it("turns the right side by less than a fifth of that, and beyond the innermost rib by less than 0.04°", () => {
    expect(Math.abs(trial.incidence("right", CENTRE))).toBeLessThan(0.05);
    for (const rib of RIBS.slice(1)) expect(Math.abs(trial.incidence("right", rib))).toBeLessThan(0.04);
  });
});

describe("a single upper line 15 mm short", () => {
  /**
   * Independent: other ribs turn by less than 0.01°. Here the fabric's bending spreads it to the neighbours, most to the rib
   * that hangs on the same middle line (measured for C: 0.19° at its own rib, 0.07° at that one, 0.03° at the next), so
   * only ribs farther off and the other side are held to a small figure.
   */
  it.each(["A", "B", "C"])(
    "in row %s turns its own rib most and hardly any rib farther than the next but one",
    (row) => {
      const trial = attempt((line) => (line.key === `left:${row}1.2.1` ? -0.015 : 0));
      const own = Math.abs(trial.incidence("left", 6));
      expect(own).toBeGreaterThan(0.1);
      for (const rib of RIBS) {
        if (rib !== 6) expect(Math.abs(trial.incidence("left", rib))).toBeLessThan(0.45 * own);
        if (Math.abs(rib - 6) > 4) expect(Math.abs(trial.incidence("left", rib))).toBeLessThan(0.07);
        expect(Math.abs(trial.incidence("right", rib))).toBeLessThan(0.015);
      }
    },
  );

  it("in a rear row is nose-up at its rib, in a front row nose-down", () => {
    const at6 = (row: string) =>
      attempt((line) => (line.key === `left:${row}1.2.1` ? -0.015 : 0)).incidence("left", 6);
    expect(at6("A")).toBeLessThan(-0.2);
    expect(at6("D")).toBeGreaterThan(0.1);
  });
});

// Common practice, no source.
describe("rules of the trade", () => {
  it("all main lines 10 mm short hardly alter the incidence: under 0.05°", () => {
    const trial = attempt((line) => (line.tier === 1 && line.row !== "brake" ? -0.01 : 0));
    for (const rib of RIBS) expect(Math.abs(trial.incidence("left", rib))).toBeLessThan(0.05);
    for (const name of ["school", "second"] as const) {
      const demo = wingOf(DEMOS[name].plan);
      const uniform = bench(
        demo,
        buildWingModel(demo),
      )((line) => (line.tier === 1 && line.row !== "brake" ? -0.01 : 0));
      const inner = uniform.ribs.filter((rib) => rib.sigma < 0.5);
      expect(inner.length).toBeGreaterThan(6);
      for (const rib of inner) expect(Math.abs(degrees(rib.incidenceRad))).toBeLessThan(0.05);
    }
  });

  // Measured: 6 % more than the rule at the centre, since the lines aren't quite square to the chord.
  it("rows that shorten in proportion to their distance from A turn the centre by atan(δ over that distance)", () => {
    const chord = 2.72;
    const fractions: Readonly<Record<string, number>> = { A: 0.1, B: 0.3, C: 0.52, D: 0.73 };
    const trial = attempt((line) => {
      const fraction = fractions[line.row];
      return line.tier === 1 && fraction !== undefined ? -0.012 * ((fraction - 0.1) / 0.63) : 0;
    });
    const rule = degrees(incidenceFromRowDifference(0.012, 0.63 * chord));
    expect(trial.incidence("left", CENTRE) / rule).toBeGreaterThan(0.85);
    expect(trial.incidence("left", CENTRE) / rule).toBeLessThan(1.15);
  });

  it("front two rows long do what rear two rows short do", () => {
    const front = attempt((line) => (lower(line, "A") || lower(line, "B") ? 0.01 : 0));
    const rear = attempt((line) => (lower(line, "C") || lower(line, "D") ? -0.01 : 0));
    for (const rib of RIBS.slice(0, 6)) {
      expect(front.incidence("left", rib)).toBeGreaterThan(0.3);
      expect(Math.abs(front.incidence("left", rib) - rear.incidence("left", rib))).toBeLessThan(0.03);
    }
  });

  it("a middle row that is short makes a flatter or a more hollow profile, not only another incidence", () => {
    const trial = attempt((line) => (lower(line, "B") || lower(line, "C") ? -0.01 : 0));
    for (const rib of trial.ribs) expect(rib.camber as number).toBeLessThan(-0.001);
  });

  it("a wing short on one side of the rear turns more incidence there than on the other side", () => {
    const trial = attempt((line) => (lower(line, "D") && line.side === "right" ? -0.015 : 0));
    for (const rib of RIBS.slice(1)) {
      expect(trial.incidence("right", rib)).toBeGreaterThan(0.25);
      expect(Math.abs(trial.incidence("left", rib))).toBeLessThan(0.08);
    }
  });
});
