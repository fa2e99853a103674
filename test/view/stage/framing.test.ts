import { PerspectiveCamera, Vector3 } from "three";
import { describe, expect, it } from "vitest";
import { betweenViews, closeView, fitView, presetView, type View } from "../../../src/view/stage/framing.ts";

/** An arch of canopy points over two carabiners: x aft, y to the right, z up. */
function wingPoints(): number[] {
  const points = [0, -0.21, 0, 0, 0.21, 0];
  for (let i = 0; i <= 40; i++) {
    const angle = -1.2 + (2.4 * i) / 40;
    for (const x of [-0.9, 0.4, 1.7]) points.push(x, 4.6 * Math.sin(angle), 4 + 3 * Math.cos(angle));
  }
  return points;
}

/** Where points land in normalised device coordinates, by the renderer's camera. */
function seen(view: View, points: readonly number[], aspect: number) {
  const camera = new PerspectiveCamera(view.fovDeg, aspect, 0.01, 1000);
  camera.up.set(0, 0, 1);
  camera.position.set(...view.position);
  camera.lookAt(...view.target);
  camera.updateMatrixWorld();
  const all = Array.from({ length: points.length / 3 }, (_, i) =>
    new Vector3().fromArray(points, 3 * i).project(camera),
  );
  const xs = all.map((p) => p.x);
  const ys = all.map((p) => p.y);
  return {
    all,
    left: Math.min(...xs),
    right: Math.max(...xs),
    bottom: Math.min(...ys),
    top: Math.max(...ys),
  };
}

const DIRECTIONS = ["overview", "front", "side", "above", "pilot"] as const;
const SHAPES = [
  ["a desk screen", 1440 / 900],
  ["an upright phone", 390 / 844],
  ["a phone's stage", 390 / 420],
] as const;

describe("framing a wing", () => {
  for (const direction of DIRECTIONS) {
    it.each(SHAPES)(
      `holds every point of it in the ${direction} view on %s, and fills the picture`,
      (_name, aspect) => {
        const points = wingPoints();
        const { left, right, bottom, top, all } = seen(presetView(direction, points, aspect), points, aspect);
        for (const edge of [-left, right, -bottom, top]) expect(edge).toBeLessThan(0.97);
        expect(all.every((p) => p.z < 1)).toBe(true);
        expect(Math.max(right - left, top - bottom)).toBeGreaterThan(1.6);
      },
    );
  }

  it("leaves the same room on opposite sides", () => {
    const points = wingPoints();
    for (const direction of DIRECTIONS) {
      const { left, right, bottom, top } = seen(presetView(direction, points, 1.6), points, 1.6);
      expect(left + right).toBeCloseTo(0, 3);
      expect(bottom + top).toBeCloseTo(0, 3);
    }
  });

  it("keeps the foot of the picture free for the caption", () => {
    const points = wingPoints();
    for (const direction of DIRECTIONS) {
      const { bottom, top } = seen(presetView(direction, points, 390 / 420, 0.14), points, 390 / 420);
      expect(bottom).toBeGreaterThan(-1 + 2 * 0.14 - 0.001);
      expect(top).toBeLessThan(0.97);
    }
  });

  it("shows the pilot's right on the viewer's left from the front, and on the right from the carabiners and from above", () => {
    const points = wingPoints();
    const rightTip = [0, 4.2, 5];
    expect(seen(presetView("front", points, 1.6), rightTip, 1.6).left).toBeLessThan(-0.3);
    expect(seen(presetView("pilot", points, 1.6), rightTip, 1.6).left).toBeGreaterThan(0.3);
    expect(seen(presetView("above", points, 1.6), rightTip, 1.6).left).toBeGreaterThan(0.3);
  });

  it("has the leading edge on the left from the side, and at the top from above", () => {
    const points = wingPoints();
    const nose = [-0.9, 0, 7];
    const tail = [1.7, 0, 7];
    const side = presetView("side", points, 1.6);
    expect(seen(side, nose, 1.6).left).toBeLessThan(seen(side, tail, 1.6).left);
    const above = presetView("above", points, 1.6);
    expect(seen(above, nose, 1.6).top).toBeGreaterThan(seen(above, tail, 1.6).top);
  });

  it("keeps the same picture when the wing is twice the size", () => {
    const points = wingPoints();
    const once = fitView(points, [-0.8, -0.6, -0.16], 24, 1.6);
    const twice = fitView(
      points.map((v) => 2 * v),
      [-0.8, -0.6, -0.16],
      24,
      1.6,
    );
    twice.position.forEach((v, k) => {
      expect(v).toBeCloseTo(2 * (once.position[k] as number), 4);
    });
  });
});

describe("gliding between views", () => {
  const points = wingPoints();
  const from = presetView("front", points, 1.6);
  const to = presetView("pilot", points, 1.6);

  it("starts at the one and ends at the other", () => {
    for (const [t, view] of [
      [0, from],
      [1, to],
    ] as const) {
      const at = betweenViews(from, to, t);
      at.position.forEach((v, k) => {
        expect(v).toBeCloseTo(view.position[k] as number, 9);
      });
      expect(at.fovDeg).toBeCloseTo(view.fovDeg, 9);
    }
  });

  it("goes round the wing, never through it", () => {
    const away = (view: View) => Math.hypot(...view.position.map((v, k) => v - (view.target[k] as number)));
    const least = Math.min(away(from), away(to));
    for (let t = 0; t <= 1; t += 0.05) expect(away(betweenViews(from, to, t))).toBeGreaterThan(0.999 * least);
  });
});

describe("coming near to some lines", () => {
  const aspect = 1.6;
  const from = presetView("overview", wingPoints(), aspect);
  const line = [0.4, -3, 4, 0.5, -3.2, 5.5];

  it("holds them all, larger than before, looking the same way through the same lens", () => {
    const view = closeView(line, from, aspect, 1);
    const near = seen(view, line, aspect);
    expect(Math.max(near.right, near.top)).toBeLessThan(1);
    expect(Math.min(near.left, near.bottom)).toBeGreaterThan(-1);
    const far = seen(from, line, aspect);
    expect(near.top - near.bottom).toBeGreaterThan(2 * (far.top - far.bottom));
    expect(view.fovDeg).toBe(from.fovDeg);
    const way = (v: View) => {
      const d = v.position.map((p, axis) => p - (v.target[axis] ?? 0));
      const length = Math.hypot(...d);
      return d.map((part) => part / length);
    };
    way(view).forEach((part, axis) => {
      expect(part).toBeCloseTo(way(from)[axis] ?? Number.NaN, 1);
    });
  });

  it("keeps its distance from a line that is very short", () => {
    const short = [0, 0, 5, 0, 0, 5.01];
    const near = closeView(short, from, aspect, 1.2);
    const distance = Math.hypot(...near.position.map((p, axis) => p - (near.target[axis] ?? 0)));
    expect(distance).toBeGreaterThan(1.2);
  });
});
