/** A solved wing as JSON and as text. SI inside; millimetres, degrees and newtons out. */

import type { Equilibrium, RibChange, WingModel } from "../geometry/model.ts";
import { changeAtEveryRib } from "../geometry/profile.ts";
import type { Wing } from "../plan/index.ts";
import { length, lengthUnitName, say } from "../words/index.ts";
import { rounded, wingCaution } from "./messages.ts";
import { figure, paragraph, signed, signedLength, table } from "./table.ts";

export interface ShapeReport {
  readonly wing: Wing;
  readonly state: "specified" | "measured" | "changed";
  readonly weightKg: number;
  readonly model: WingModel;
  readonly equilibrium: Equilibrium;
  /** Line key → length change against specified this state was solved with [m]; lines as specified are left out. */
  readonly lengthChanges: ReadonlyMap<string, number>;
  /** Specified → this state. */
  readonly ribs: readonly RibChange[];
}

const degrees = (angle: number): number => (angle * 180) / Math.PI;

/** Lengths to a thousandth of a millimetre, angles to 0.0001°, forces to a thousandth of a newton. */
export function shapeJson(report: ShapeReport): object {
  const { wing, model, equilibrium } = report;
  const { balance } = equilibrium;
  const { fit } = model;
  return {
    format: "linewright-shape",
    version: 1,
    ok: true,
    wing: wing.name,
    caution: wingCaution(),
    state: report.state,
    weightKg: report.weightKg,
    converged: equilibrium.converged,
    iterations: equilibrium.iterations,
    residualN: equilibrium.residualN,
    energyJ: rounded(equilibrium.energyJ, 6),
    changesMm: Object.fromEntries(
      [...report.lengthChanges].map(([key, change]) => [key, rounded(1000 * change, 3)]),
    ),
    nodes: model.nodeName.map((name, node) => ({
      name,
      kind: model.nodeKind[node],
      positionM: vectorAt(equilibrium.positions, node),
    })),
    lines: Object.fromEntries(
      lineForces(report).map(({ key, tensionN, lengthM, slack }) => [
        key,
        { tensionN: rounded(tensionN, 3), lengthMm: rounded(1000 * lengthM, 3), slack },
      ]),
    ),
    ribs: report.ribs.map((rib) => ({
      side: rib.side,
      rib: rib.rib,
      spanFraction: rounded(rib.sigma, 4),
      yM: rounded(rib.yM, 4),
      incidenceDeg: rounded(degrees(rib.incidenceRad), 4),
      camberPercent: rib.camber === undefined ? null : rounded(100 * rib.camber, 4),
      heaveMm: rounded(1000 * rib.heaveM, 3),
      arcDeg: rounded(degrees(rib.arcRad), 4),
      residualMm: rib.residualM === undefined ? null : rounded(1000 * rib.residualM, 3),
    })),
    everyRib: changeAtEveryRib(model, report.ribs).map((rib) => ({
      side: rib.side,
      rib: rib.rib,
      between: rib.between,
      incidenceDeg: rounded(degrees(rib.incidenceRad), 4),
      camberPercent: rib.camber === undefined ? null : rounded(100 * rib.camber, 4),
      heaveMm: rounded(1000 * rib.heaveM, 3),
    })),
    fit: {
      parameters: fit.parameters,
      misfitMm: Object.fromEntries(
        wing.tabs.map((tab, i) => [tab.key, rounded(1000 * (fit.misfitM[i] as number), 3)]),
      ),
      rmsMisfitMm: rounded(1000 * fit.rmsMisfitM, 3),
      largestRemainderMm: rounded(1000 * fit.largestRemainderM, 4),
    },
    loose: equilibrium.loose.map((node) => ({ name: model.nodeName[node], kind: model.nodeKind[node] })),
    balance: {
      forceN: balance.force.map((component) => rounded(component, 6)),
      momentNm: balance.moment.map((component) => rounded(component, 6)),
      weightN: rounded(model.allUpWeightN, 3),
    },
  };
}

function vectorAt(positions: Float64Array, node: number): number[] {
  return Array.from(positions.subarray(3 * node, 3 * node + 3), (x) => rounded(x, 6));
}

interface LineForce {
  readonly key: string;
  readonly tensionN: number;
  readonly lengthM: number;
  readonly slack: boolean;
}

function lineForces({ wing, model, equilibrium }: ShapeReport): LineForce[] {
  const slack = new Set(equilibrium.slack);
  return wing.lines.flatMap((line) => {
    const member = model.lineMember.get(line.key);
    if (member === undefined) return [];
    const [a, b] = [0, 1].map((end) => 3 * (model.network.ends[2 * member + end] as number)) as [
      number,
      number,
    ];
    const along = [0, 1, 2].map(
      (d) => (equilibrium.positions[b + d] as number) - (equilibrium.positions[a + d] as number),
    );
    return [
      {
        key: line.key,
        tensionN: equilibrium.tensionsN[member] as number,
        lengthM: Math.hypot(...along),
        slack: slack.has(member),
      },
    ];
  });
}

export function shapeText(report: ShapeReport): string {
  const { wing, model } = report;
  const { fit } = model;
  const unit = lengthUnitName();
  const lines = lineForces(report);
  const slack = lines.filter((line) => line.slack).map((line) => line.key);
  const sections = [
    `${say("cli.shape.frame", {
      wing: wing.name,
      state: report.state,
      weight: figure(report.weightKg, 1),
      changes: report.lengthChanges.size,
    })}\n`,
    table(
      [
        say("cli.head.rib"),
        say("cli.head.incidence"),
        say("cli.head.camber"),
        say("cli.head.heave", { unit }),
        say("cli.head.arc"),
      ],
      report.ribs.map((rib) => [
        say("cli.shape.rib", { side: rib.side, rib: String(rib.rib) }),
        signed(degrees(rib.incidenceRad), 2),
        signed(rib.camber === undefined ? undefined : 100 * rib.camber, 2),
        signedLength(rib.heaveM, 1),
        signed(degrees(rib.arcRad), 2),
      ]),
    ),
    table(
      [say("cli.head.line"), say("cli.head.change.unit", { unit }), say("cli.head.tension")],
      lines.map(({ key, tensionN }) => {
        return [key, signedLength(report.lengthChanges.get(key), 1), figure(tensionN, 1)];
      }),
    ),
    slack.length === 0 ? "" : paragraph(say("cli.shape.slack", { lines: slack.join(", ") })),
    paragraph(
      say("cli.shape.fit", { rms: length(fit.rmsMisfitM, 1), rest: length(fit.largestRemainderM, 2) }),
    ),
    paragraph(wingCaution()),
  ];
  return sections.filter((section) => section !== "").join("\n");
}
