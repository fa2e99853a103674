/** What the tests of whole wings ask of a model and its states. */
import type { AttachedRib, Equilibrium, RibChange, WingModel } from "../../src/geometry/model.ts";
import { profileChange } from "../../src/geometry/profile.ts";
import { solveWing, wingStructure } from "../../src/geometry/solve.ts";
import type { Line, Wing } from "../../src/plan/model.ts";
import { at } from "../reference/networks.ts";

export const degrees = (radians: number): number => (radians * 180) / Math.PI;

/** Length changes by line [m]; lines with none are left out. */
export function changesOf(wing: Wing, changeM: (line: Line) => number): Map<string, number> {
  return new Map(
    wing.lines.map((line) => [line.key, changeM(line)] as const).filter(([, change]) => change !== 0),
  );
}

export interface Trial {
  readonly state: Equilibrium;
  readonly ribs: readonly RibChange[];
  /** Incidence change of one rib, nose-up positive [°]. */
  incidence(side: "left" | "right", rib: number): number;
}

/** A bench for a wing: its structure analysed once, then one trial after the other. */
export function bench(wing: Wing, model: WingModel): (changeM: (line: Line) => number) => Trial {
  const structure = wingStructure(model);
  return (changeM) => {
    const state = solveWing(model, changesOf(wing, changeM), model.specified, structure);
    const ribs = profileChange(model, model.specified, state);
    return {
      state,
      ribs,
      incidence: (side, rib) => {
        const found = ribs.find((each) => each.side === side && each.rib === rib);
        if (!found) throw new Error(`no rib ${rib} on the ${side}`);
        return degrees(found.incidenceRad);
      },
    };
  };
}

/** How far a node moved along its rib's normal, outwards positive [m]. */
export function movedOutwards(rib: AttachedRib, node: number, from: Float64Array, to: Float64Array): number {
  const [a, b] = [at(from, node), at(to, node)];
  return rib.normal.reduce((sum, n, axis) => sum + n * ((b[axis] as number) - (a[axis] as number)), 0);
}

/** Largest distance of any node from its twin's mirror image [m]. */
export function asymmetry(model: WingModel, positions: Float64Array): number {
  const nodes = new Map(model.nodeName.map((name, node) => [`${model.nodeKind[node]} ${name}`, node]));
  let worst = 0;
  model.nodeName.forEach((name, node) => {
    if (!name.startsWith("left")) return;
    const twin = nodes.get(`${model.nodeKind[node]} ${name.replace("left", "right")}`);
    if (twin === undefined) throw new Error(`${name} has no twin`);
    const [a, b] = [at(positions, node), at(positions, twin)];
    worst = Math.max(worst, Math.hypot(a[0] - b[0], a[1] + b[1], a[2] - b[2]));
  });
  return worst;
}
