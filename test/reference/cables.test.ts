/**
 * The solver against published cables.
 *
 * "musclepy" is the open test suite of the repository JonasFeron/Muscle (Apache-2.0), commit
 * 46d146a51fc5bbeadca41d6df340cdbf7c0e0563, folder tests/MusclePyTests/solvers. "Recalculated" marks figures
 * computed from the published inputs with more digits, by the closed form or an independent Newton solution of
 * T = EA (L − L0)/L0.
 */
import { describe, expect, it } from "vitest";
import { solveEquilibrium } from "../../src/geometry/equilibrium.ts";
import type { Equilibrium, Network } from "../../src/geometry/model.ts";
import { at, bareNetwork } from "./networks.ts";

/** 8 mm round section at 70 000 MPa [N], as in musclepy's cable tests. */
const EA_8MM = 70_000 * Math.PI * 16;

type Triple = readonly [number, number, number];

/** Two equal cables in line from −l to +l, loaded in the middle; the middle free in x and z. */
function ropeOfTwo(half: number, stiffness: number, unstretched: number, load: number): Network {
  return bareNetwork({
    nodes: [
      { position: [0, 0, 0], fixed: true },
      { position: [half, 0, 0], fixed: "y", load: [0, 0, load] },
      { position: [2 * half, 0, 0], fixed: true },
    ],
    members: [
      { ends: [0, 1], stiffness, unstretched },
      { ends: [1, 2], stiffness, unstretched },
    ],
  });
}

function solved(network: Network): Equilibrium {
  const result = solveEquilibrium(network);
  expect(result.converged).toBe(true);
  return result;
}

describe("two cables in line with a load in the middle", () => {
  // musclepy, dr/test_dr_2cables.py, "analytical solution": z 0.126554 m (1e-6), T 7037.17 N (0.01).
  it("sinks and pulls as the closed form says, each support carrying half the load", () => {
    const { positions, tensionsN, reactionsN } = solved(ropeOfTwo(2, EA_8MM, 2, 888.808));
    expect(at(positions, 1)[2]).toBeCloseTo(0.126554, 6);
    for (const tension of tensionsN) expect(Math.abs(tension - 7037.17)).toBeLessThan(0.01);
    expect(reactionsN[2]).toBeCloseTo(-444.404, 6);
    expect(reactionsN[8]).toBeCloseTo(-444.404, 6);
    // Recalculated.
    expect(at(positions, 1)[2]).toBeCloseTo(0.12655440967738, 10);
    expect(tensionsN[0]).toBeCloseTo(7037.175712278, 5);
  });

  // Same file, second case: 70000·A·0.001/1.999.
  it("shortened by a millimetre each and not loaded, is tight and stays straight", () => {
    const { positions, tensionsN } = solved(ropeOfTwo(2, EA_8MM, 1.999, 0));
    expect(tensionsN[0]).toBeCloseTo((EA_8MM * 0.001) / 1.999, 6);
    expect(tensionsN[1]).toBeCloseTo(1760.171972, 5);
    expect(at(positions, 1)[2]).toBe(0);
  });

  // musclepy, nonlinear_dm/test_nonlinear_dm_loose_mechanism.py (after J. Feron's master's thesis, p. 107): z −0.15874,
  // T 313 020 within 2 %. That z is the cubic approximation l (P/EA)^(1/3); the exact figures are recalculated.
  it("just taut and heavily loaded, finds the large deflection", () => {
    const { positions, tensionsN } = solved(ropeOfTwo(1, 25e6, 1, -100_000));
    expect(at(positions, 1)[2]).toBeCloseTo(-0.15974430485, 9);
    expect(tensionsN[0]).toBeCloseTo(316_968.654097, 3);
    expect(Math.abs((tensionsN[0] as number) / 313_020 - 1)).toBeLessThan(0.02);
  });

  // musclepy, nonlinear_dm/test_nonlinear_dm_prestressed_tight_rope.py: z 0, −75, −105 mm; T 20 000, 34 043, 47 487 N,
  // within 2 %. Exact columns recalculated.
  it.each([
    [0, 0, 20_000, 0, 19_999.67872],
    [-5109, -75.0, 34_043, -75.0688722, 34_124.498541],
    [-9988, -105.0, 47_487, -105.2327856, 47_718.735776],
  ])("prestressed, under %d N", (load, publishedMm, publishedN, exactMm, exactN) => {
    const { positions, tensionsN } = solved(ropeOfTwo(1, 5e6, 0.996016, load));
    const mm = 1000 * at(positions, 1)[2];
    expect(Math.abs(mm - publishedMm)).toBeLessThanOrEqual(0.02 * Math.abs(publishedMm));
    expect(Math.abs((tensionsN[0] as number) / publishedN - 1)).toBeLessThan(0.02);
    expect(mm).toBeCloseTo(exactMm, 6);
    expect(tensionsN[0]).toBeCloseTo(exactN, 4);
  });

  // xcfem/xc, commit fe707f4afdf74f552779217ee93d76479e3225b3, verif/…/cable/test_cable_material03.py: 10 in, EA 60e6 lb, 1500 psi
  // on 2 in² at the start, 100 lb in the middle; the test demands T = F/(2 sin a). Deflection and T recalculated.
  it("prestressed by 1500 psi, balances the load by the slope of its halves", () => {
    const { positions, tensionsN } = solved(ropeOfTwo(5, 60e6, 5 / (1 + 3000 / 60e6), -100));
    const [, , z] = at(positions, 1);
    const slope = -z / Math.hypot(5, z);
    // Rounding of positions of 10 in at a stiffness of 1.2e7 lb/in leaves no more than this.
    expect(Math.abs((tensionsN[0] as number) / (100 / (2 * slope)) - 1)).toBeLessThan(2e-9);
    expect(z).toBeCloseTo(-0.0455450661, 9);
    expect(tensionsN[0]).toBeCloseTo(5489.2965, 4);
  });
});

describe("three cables, one too short", () => {
  const threeCables = (top: Triple, first: number, load: Triple, shorten: Triple): Network =>
    bareNetwork({
      nodes: [
        { position: top, fixed: true },
        { position: [0, 0, 0], fixed: true },
        { position: [4, 0, 0], fixed: true },
        { position: [2, 0, 0], load },
      ],
      members: [first, 2, 2].map((length, m) => ({
        ends: [m, 3] as const,
        stiffness: EA_8MM,
        unstretched: length - (shorten[m] as number),
      })),
    });

  // musclepy, dr/test_dr_3complexcables.py, "analytical solution": tensions within 0.2 N, position within 1e-6 m.
  it("lifts the joint and tightens the other two", () => {
    const { positions, tensionsN } = solved(threeCables([0, 0, 1], Math.sqrt(5), [0, 0, 0], [0.05211, 0, 0]));
    for (const [m, published] of [1823.48, 5365.62, 7037.17].entries()) {
      expect(Math.abs((tensionsN[m] as number) - published)).toBeLessThan(0.2);
    }
    const [x, y, z] = at(positions, 3);
    expect(Math.abs(x - (2 - 0.000476))).toBeLessThan(1e-6);
    expect(Math.abs(y)).toBeLessThan(1e-9);
    expect(Math.abs(z - 0.118795)).toBeLessThan(1e-6);
    // Recalculated.
    expect([...tensionsN].map((tension) => tension.toFixed(4))).toEqual([
      "1823.5257",
      "5365.7056",
      "7037.3015",
    ]);
    expect(x).toBeCloseTo(1.99952409, 8);
    expect(z).toBeCloseTo(0.11879572, 8);
  });

  // Same file, second case: within 0.04 N.
  it("leaves the upper one slack when a lower one is the short one", () => {
    const { positions, tensionsN, slack } = solved(
      threeCables([0, 0, 1], Math.sqrt(5), [0, 0, 0], [0, 0.007984, 0]),
    );
    expect(slack).toEqual([0]);
    expect(tensionsN[0]).toBe(0);
    for (const m of [1, 2]) expect(Math.abs((tensionsN[m] as number) - 7037.17)).toBeLessThan(0.04);
    expect(at(positions, 3)[0]).toBeCloseTo(2 - 0.004, 6);
  });

  // musclepy, dr/test_dr_3simplecables.py: upper cable tension-only, load upwards: (0, 7037.17, 7037.17) N, z 0.126554 m.
  it("leaves the upper one slack when the load goes its way", () => {
    const { positions, tensionsN, slack } = solved(threeCables([2, 0, 1], 1, [0, 0, 888.808], [0, 0, 0]));
    expect(slack).toEqual([0]);
    expect(tensionsN[0]).toBe(0);
    expect(tensionsN[1]).toBeCloseTo(7037.175712, 4);
    expect(tensionsN[2]).toBeCloseTo(7037.175712, 4);
    expect(at(positions, 3)[2]).toBeCloseTo(0.12655441, 7);
  });
});

describe("two inclined bars that meet at a loaded node", () => {
  // ONSAS, commit 6b8945ed707c0f30fdd710cccbdf0d8a2032a800, examples/staticVonMisesTruss, after Bazzano & Pérez Zerpa (2017),
  // section 2.3: P = 2 EA (z2 + w)(l − l0)/(l0 l). E 210 GPa, A 2.5e-3 m², L 2 m, 65°. Loads recalculated from it.
  const [x2, z2] = [2 * Math.cos((65 * Math.PI) / 180), 2 * Math.sin((65 * Math.PI) / 180)];
  it.each([
    [0.05, 21.71649e6],
    [0.1, 43.725878e6],
    [0.2, 88.531315e6],
  ])("moves by %d m under the load of the closed form", (w, load) => {
    const { positions } = solved(
      bareNetwork({
        nodes: [
          { position: [-x2, 0, 0], fixed: true },
          { position: [0, 0, z2], fixed: "y", load: [0, 0, load] },
          { position: [x2, 0, 0], fixed: true },
        ],
        members: [
          { ends: [0, 1], stiffness: 525e6, unstretched: 2, bar: true },
          { ends: [1, 2], stiffness: 525e6, unstretched: 2, bar: true },
        ],
      }),
    );
    expect(at(positions, 1)[2] - z2).toBeCloseTo(w, 7);
  });
});

describe("a straight cable between fixed ends, cooled", () => {
  // Code_Aster, case SSNL115 (V6.02.115), repository ehmoussi/code_aster, commit
  // 34161d7955a653fc38bafe5de09903d3755dbba4, folder astest: N = −E α A ΔT, five elements of 1 mm. Cooling shortens
  // the unstretched length by α ΔT; the solver's strain refers to the shortened length, hence the factor.
  it.each([
    [-30, 23_750.44046],
    [-500, 395_840.67436],
    [-1000, 791_681.3487],
  ])("by %d K, is stretched by E·α·A·ΔT", (kelvin, published) => {
    const stiffness = 210_000 * Math.PI * 100;
    const contraction = 1.2e-5 * -kelvin;
    const { tensionsN, positions } = solved(
      bareNetwork({
        nodes: [0, 1, 2, 3, 4, 5].map((x) => ({ position: [x, 0, 0] as const, fixed: x === 0 || x === 5 })),
        members: [0, 1, 2, 3, 4].map((m) => ({
          ends: [m, m + 1] as const,
          stiffness: stiffness * (1 - contraction),
          unstretched: 1 - contraction,
        })),
      }),
    );
    for (const tension of tensionsN) expect(Math.abs(tension / published - 1)).toBeLessThan(1e-8);
    expect(at(positions, 2)[0]).toBeCloseTo(2, 9);
  });
});
