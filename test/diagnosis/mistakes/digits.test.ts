import { describe, expect, it } from "vitest";
import { meantInstead } from "../../../src/diagnosis/mistakes/digits.ts";
import { SLIP_SHARE } from "../../../src/diagnosis/mistakes/plausible.ts";

const meantMm = (mm: number, kind: string): number[] =>
  meantInstead(mm / 1000).flatMap((one) =>
    one.kind === kind ? [Number((one.valueM * 1000).toFixed(3))] : [],
  );

describe("what a typed figure may have been meant as", () => {
  it("has 7421 for 7241 and for 7412, its neighbours transposed, and for 1427, two over one between", () => {
    expect(meantMm(7241, "digits transposed")).toContain(7421);
    expect(meantMm(7412, "digits transposed")).toContain(7421);
    expect(meantMm(2471, "digits transposed")).toContain(7421);
  });

  it("has 7421 for any one digit wrong, and for a round figure misread with a carry", () => {
    for (const mm of [7521, 7321, 8421, 7431, 7461, 9421, 7428])
      expect(meantMm(mm, "digit slip")).toContain(7421);
    expect(meantMm(8021, "digit slip")).toContain(7921);
  });

  it("has 7421 for a digit too few or too many", () => {
    for (const mm of [742, 741, 721, 421, 74210, 77421, 74421, 74281])
      expect(meantMm(mm, "keystroke")).toContain(7421);
  });

  it("has 7415 for 7450 and 7450 for 7415, misheard, but not 7410 or 7411, which sound like no other", () => {
    expect(meantMm(7450, "misheard")).toEqual([7415]);
    expect(meantMm(7415, "misheard")).toEqual([7450]);
    expect(meantMm(7410, "misheard")).toEqual([]);
    expect(meantMm(7411, "misheard")).toEqual([]);
  });

  it("never has the figure itself, one with a nought in front, or one below nothing; fractions stay", () => {
    for (const mm of [7421, 1009, 5055, 6100]) {
      const all = meantInstead(mm / 1000);
      expect(all.every((one) => Math.abs(one.valueM * 1000 - mm) > 0.5 && one.valueM > 0)).toBe(true);
      expect(all.every((one) => one.kind === "keystroke" || one.valueM >= 1)).toBe(true);
    }
    expect(meantMm(7421.5, "digits transposed")).toContain(7241.5);
    expect(meantInstead(0.042)).toEqual([]);
  });

  it("counts no slip more often than slips of its kind happen", () => {
    const single = meantInstead(7.421).filter((one) => one.kind === "digit slip");
    expect(single.reduce((sum, one) => sum + one.share, 0)).toBeLessThanOrEqual(SLIP_SHARE.digit + 1e-12);
    const turned = meantInstead(7.421).filter((one) => one.kind === "digits transposed");
    expect(turned.reduce((sum, one) => sum + one.share, 0)).toBeLessThanOrEqual(
      SLIP_SHARE.transposed + SLIP_SHARE.jump + 1e-12,
    );
  });
});
