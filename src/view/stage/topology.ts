/** What of a wing model the stage draws as lines, straps and links: index arrays into the model's nodes. */
import type { WingModel } from "../../geometry/model.ts";

export interface StageTopology {
  /** Line keys in drawing order; a line the model doesn't hold isn't drawn. */
  readonly keys: readonly string[];
  /** Line key → place in `keys`. */
  readonly place: ReadonlyMap<string, number>;
  /** Two node indices per line. */
  readonly lineEnds: Int32Array;
  /** Two node indices per riser strap, the carabiner's first. */
  readonly straps: Int32Array;
  /** Per small link: its node, and the node that it is pulled towards or hangs from (which gives its long axis). */
  readonly maillons: Int32Array;
  /** Per main carabiner: its node, and one maillon above it. */
  readonly carabiners: Int32Array;
  /** Nodes where the brake lines run through a pulley. */
  readonly pulleys: Int32Array;
  readonly nodes: number;
}

/** Sorts the members of a model by what they are drawn as. */
export function stageTopology(model: WingModel): StageTopology {
  const { ends } = model.network;
  const keys: string[] = [];
  const lineEnds: number[] = [];
  const straps: number[] = [];
  const maillons = new Map<number, number>();
  const carabiners = new Map<number, number>();
  for (let member = 0; member < model.memberKind.length; member++) {
    const a = ends[2 * member] as number;
    const b = ends[2 * member + 1] as number;
    const key = model.memberLine[member];
    if (model.memberKind[member] === "line" && key !== undefined) {
      keys.push(key);
      lineEnds.push(a, b);
    } else if (model.memberKind[member] === "riser") {
      const [lower, upper] = model.nodeKind[b] === "carabiner" ? [b, a] : [a, b];
      straps.push(lower, upper);
      if (model.nodeKind[upper] === "maillon") maillons.set(upper, lower);
      if (model.nodeKind[lower] === "carabiner" && !carabiners.has(lower)) carabiners.set(lower, upper);
    }
  }
  const pulleys = model.nodeKind.flatMap((kind, node) => (kind === "pulley" ? [node] : []));
  return {
    keys,
    place: new Map(keys.map((key, i) => [key, i])),
    lineEnds: Int32Array.from(lineEnds),
    straps: Int32Array.from(straps),
    maillons: Int32Array.from([...maillons].flat()),
    carabiners: Int32Array.from([...carabiners].flat()),
    pulleys: Int32Array.from(pulleys),
    nodes: model.nodeKind.length,
  };
}
