/**
 * A self-stressed cable net of 98 nodes (38 held) and 168 edges, all in tension, no load.
 *
 * Source: repository arpastrana/jax_fdm (MIT), commit 71d449076d7384104108cfd133108be01278c18d,
 * tests/data/reference/stuttgart21-{nodes,edges}.csv, there "characterization tests against an independent
 * structural-analysis solver". Equilibrium is at x + u; `is_free` 0 marks a support; the force is `forceopt`.
 */
import { readFileSync } from "node:fs";
import Papa from "papaparse";
import type { Network } from "../../src/geometry/model.ts";
import { bareNetwork } from "./networks.ts";

/** The net as published, with EA chosen freely: L0 = L/(1 + f/EA) makes the published state its equilibrium. */
export interface PublishedNet {
  readonly network: Network;
  /** 3n equilibrium positions. */
  readonly positions: Float64Array;
  /** Edge forces. */
  readonly forces: Float64Array;
}

export function stuttgart21(stiffness: number): PublishedNet {
  const nodes = rows("stuttgart21-nodes.csv");
  const edges = rows("stuttgart21-edges.csv");
  const column = (row: readonly number[], i: number): number => row[i] as number;
  const place = new Map(nodes.map((row, i) => [column(row, 0), i]));
  const equilibrium = nodes.map((row) => [1, 2, 3].map((d) => column(row, d) + column(row, d + 4)));
  const ends = edges.map(
    (row) => [place.get(column(row, 0)) as number, place.get(column(row, 1)) as number] as const,
  );
  const forces = edges.map((row) => column(row, 4));
  const network = bareNetwork({
    nodes: equilibrium.map((position, i) => ({
      position: position as [number, number, number],
      fixed: nodes[i]?.[4] === 0,
    })),
    members: ends.map((pair, e) => {
      const [a, b] = pair.map((node) => equilibrium[node] as number[]) as [number[], number[]];
      const length = Math.hypot(...a.map((x, d) => (b[d] as number) - x));
      return { ends: pair, stiffness, unstretched: length / (1 + (forces[e] as number) / stiffness) };
    }),
  });
  return { network, positions: Float64Array.from(equilibrium.flat()), forces: Float64Array.from(forces) };
}

function rows(file: string): number[][] {
  const text = readFileSync(new URL(`../fixtures/${file}`, import.meta.url), "utf8");
  return Papa.parse<number[]>(text, { dynamicTyping: true, skipEmptyLines: true }).data.slice(1);
}
