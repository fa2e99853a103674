import { describe, expect, test } from "vitest";
import { hangTabs } from "../../src/demo/hang.ts";
import { LIGHT_WING } from "../../src/demo/light-wing.ts";
import { SCHOOL_WING } from "../../src/demo/school-wing.ts";
import type { WingSpec } from "../../src/demo/wing-spec.ts";

describe.each([SCHOOL_WING, LIGHT_WING])("the tabs of $wing.name over the carabiner", (spec: WingSpec) => {
  const tabs = hangTabs(spec);
  const main = tabs.filter((tab) => tab.row.row !== "brake");
  const ofRow = (row: string) => tabs.filter((tab) => tab.row.row === row);
  const pull = (row: string) => ofRow(row).reduce((sum, tab) => sum + Math.hypot(...tab.force), 0);

  test("together carry half of the all-up weight", () => {
    const up = main.reduce((sum, tab) => sum + tab.force[2], 0);
    expect(up).toBeCloseTo((spec.formedAtKg * 9.80665) / 2, 9);
  });

  test("pull hardest in the front row, each row harder than the one behind it, the brakes hardly", () => {
    const rows = spec.rows.map(({ row }) => row).filter((row) => row !== "tip" && row !== "brake");
    const total = main.reduce((sum, tab) => sum + Math.hypot(...tab.force), 0);
    // Plausible bands for the front row: 45 to 60 %, tip line and rounding of the band included.
    expect(pull("A") / total).toBeGreaterThan(0.4);
    expect(pull("A") / total).toBeLessThan(0.62);
    rows.slice(1).forEach((row, i) => {
      expect(pull(row)).toBeLessThan(pull(rows[i] as string));
      expect(pull(row) / total).toBeGreaterThan(0.04);
    });
    expect(pull("brake") / total).toBeLessThan(0.02);
  });

  test("stand on the right, further down and outwards towards the tip, the front row ahead of the carabiner", () => {
    const front = ofRow("A");
    front.slice(1).forEach((tab, i) => {
      const inner = front[i] as (typeof front)[number];
      expect(tab.position[1]).toBeGreaterThan(inner.position[1]);
      expect(tab.position[2]).toBeLessThan(inner.position[2]);
    });
    expect(front[0]?.position[0]).toBeLessThan(0);
    expect(ofRow("brake")[0]?.position[0]).toBeGreaterThan(0);
  });

  test("have the innermost front tab as far from the carabiner as asked for", () => {
    const [x, y, z] = (ofRow("A")[0] as (typeof tabs)[number]).position;
    const flatSpan = 2 * spec.outline.flatHalfSpanM;
    expect(Math.hypot(x, y - spec.carabinerSpacingM / 2, z)).toBeCloseTo(
      spec.centralLineOverSpan * flatSpan,
      12,
    );
  });
});
