import { describe, expect, it } from "vitest";
import { DEMOS } from "../../../src/demo/index.ts";
import {
  type CascadeDiagram,
  cascadeDiagram,
  draftDiagram,
  draftOfPlan,
  parseDraft,
} from "../../../src/plan/draft/index.ts";
import { ROWS } from "../../../src/plan/index.ts";
import { wingOf } from "../factory.ts";
import { randomFrom, randomPlan } from "../random.ts";

type Point = readonly [number, number];
type Segment = readonly [Point, Point];

const cross = (o: Point, a: Point, b: Point): number =>
  (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);
const EPS = 1e-9;
const same = (a: Point, b: Point): boolean => Math.abs(a[0] - b[0]) < EPS && Math.abs(a[1] - b[1]) < EPS;

/** Two segments touch elsewhere than at an end that they share. */
function meet([a, b]: Segment, [c, d]: Segment): boolean {
  const shared = [a, b].filter((p) => same(p, c) || same(p, d));
  const [d1, d2, d3, d4] = [cross(a, b, c), cross(a, b, d), cross(c, d, a), cross(c, d, b)];
  if (shared.length > 0) {
    // From a common end they may only lie on each other.
    const flat = [d1, d2, d3, d4].every((each) => Math.abs(each) < EPS);
    const common = shared[0] as Point;
    const [p, q] = [same(a, common) ? b : a, same(c, common) ? d : c];
    const along = (p[0] - common[0]) * (q[0] - common[0]) + (p[1] - common[1]) * (q[1] - common[1]);
    return flat && along > EPS;
  }
  return (
    d1 * d2 <= EPS &&
    d3 * d4 <= EPS &&
    !(Math.abs(d1) < EPS && Math.abs(d2) < EPS && !overlaps([a, b], [c, d]))
  );
}
function overlaps([a, b]: Segment, [c, d]: Segment): boolean {
  const span = (i: 0 | 1): boolean =>
    Math.max(Math.min(a[i], b[i]), Math.min(c[i], d[i])) <=
    Math.min(Math.max(a[i], b[i]), Math.max(c[i], d[i])) + EPS;
  return span(0) && span(1);
}

function segments(diagram: CascadeDiagram): readonly Segment[] {
  return diagram.edges.flatMap((edge) =>
    edge.points.slice(1).map((p, i): Segment => [edge.points[i] as Point, p]),
  );
}

function crossings(diagram: CascadeDiagram): number {
  const all = segments(diagram);
  let found = 0;
  all.forEach((one, i) => {
    for (const other of all.slice(i + 1)) if (meet(one, other)) found++;
  });
  return found;
}

function overlapping(diagram: CascadeDiagram): string[] {
  return diagram.labels.flatMap((one, i) =>
    diagram.labels
      .slice(i + 1)
      .filter(
        (other) =>
          Math.abs(one.x - other.x) < (one.width + other.width) / 2 &&
          Math.abs(one.y - other.y) < (one.height + other.height) / 2,
      )
      .map((other) => `${one.text} and ${other.text}`),
  );
}

function sound(diagram: CascadeDiagram): void {
  expect(crossings(diagram), diagram.title).toBe(0);
  expect(overlapping(diagram), diagram.title).toEqual([]);
  const tabs = diagram.nodes.filter((node) => node.kind === "tab");
  const steps = tabs.slice(1).map((tab, i) => tab.x - (tabs[i]?.x ?? 0));
  for (const step of steps) expect(step).toBeCloseTo(steps[0] as number, 9);
  for (const node of diagram.nodes) {
    expect(node.x).toBeGreaterThan(0);
    expect(node.x).toBeLessThan(diagram.width);
  }
  // A tree: every node but the anchors has one edge from below.
  const anchors = diagram.nodes.filter((node) => node.kind === "anchor").length;
  expect(diagram.edges).toHaveLength(diagram.nodes.length - anchors);
  expect(new Set(diagram.edges.map((edge) => edge.to)).size).toBe(diagram.edges.length);
}

describe("the flat diagram of a cascade", () => {
  it("would notice a crossing and an overlap", () => {
    expect(
      meet(
        [
          [0, 0],
          [2, 2],
        ],
        [
          [0, 2],
          [2, 0],
        ],
      ),
    ).toBe(true);
    expect(
      meet(
        [
          [0, 0],
          [2, 2],
        ],
        [
          [0, 0],
          [1, 1],
        ],
      ),
    ).toBe(true);
    expect(
      meet(
        [
          [0, 0],
          [2, 2],
        ],
        [
          [0, 0],
          [1, 2],
        ],
      ),
    ).toBe(false);
    expect(
      meet(
        [
          [0, 0],
          [4, 0],
        ],
        [
          [2, 0],
          [2, 3],
        ],
      ),
    ).toBe(true);
    expect(
      meet(
        [
          [0, 0],
          [1, 0],
        ],
        [
          [2, 0],
          [3, 0],
        ],
      ),
    ).toBe(false);
    const [diagram] = draftDiagram(parseDraft("A: 2+2"));
    if (diagram === undefined) throw new Error("no diagram");
    expect(
      overlapping({ ...diagram, labels: diagram.labels.map((label) => ({ ...label, width: 10 })) }),
    ).not.toEqual([]);
  });

  it.each(["school", "second"] as const)(
    "has no crossing and no overlapping words: the demo's %s wing",
    (name) => {
      const wing = wingOf(DEMOS[name].plan);
      for (const row of ROWS.filter((each) => wing.lines.some((line) => line.row === each)))
        sound(cascadeDiagram(wing, row));
    },
  );

  it("is the same of a finished plan and of its draft", () => {
    const wing = wingOf(DEMOS.school.plan);
    const drawn = draftDiagram(parseDraft(draftOfPlan(wing).source));
    expect(drawn.map((diagram) => diagram.row)).toEqual([...ROWS]);
    for (const diagram of drawn) expect(cascadeDiagram(wing, diagram.row, "right")).toEqual(diagram);
  });

  it("has none for random cascades of one to four tiers either", () => {
    const random = randomFrom(31);
    let tiers = 0;
    for (let i = 0; i < 60; i++) {
      const wing = wingOf(randomPlan(random));
      for (const row of ["A", "B"] as const) {
        const diagram = cascadeDiagram(wing, row);
        tiers = Math.max(tiers, ...diagram.edges.map((edge) => edge.tier));
        sound(diagram);
      }
    }
    expect(tiers).toBe(4);
  });

  it("draws tabs of unequal tiers, shared lines, several maillons, and what is half typed", () => {
    const text =
      "risers: A 480\nmaillons: A on A, A2 on A\nA: (2+1)+1 ((2+2)+1) 1+(2+(1+1))\nA on A2: 2 2\nA on A: 3+D2\nT on A: 1+(2+2)\nA: 2+(";
    const diagrams = draftDiagram(parseDraft(text));
    expect(diagrams.map((diagram) => diagram.title)).toEqual(["Row A", "Tip"]);
    for (const diagram of diagrams) sound(diagram);
    const anchors = diagrams[0]?.nodes.filter((node) => node.kind === "anchor").map((node) => node.name);
    expect(anchors).toEqual(["A", "A2", "A"]);
    expect(diagrams[0]?.nodes.some((node) => node.row === "D")).toBe(true);
  });

  it("puts a fork over the middle of what it carries, and its figures beside the names", () => {
    const [diagram] = draftDiagram(parseDraft("A: 2+2\ntotals A: 7420 7415 7410,5 -\nmiddle A: 1100 1090"));
    const named = (name: string) => diagram?.nodes.find((node) => node.name === name);
    expect(named("AM1")?.x).toBeCloseTo(((named("A1")?.x ?? 0) + (named("A2")?.x ?? 0)) / 2, 9);
    expect(diagram?.labels.map((label) => [label.text, label.figure])).toEqual([
      ["A1", "7420"],
      ["A2", "7415"],
      ["AM1", "1100"],
      ["A3", "7410.5"],
      ["A4", ""],
      ["AM2", "1090"],
      ["AL1", ""],
      ["A", ""],
    ]);
  });
});
