import { describe, expect, it } from "vitest";
import {
  plainDegrees,
  plainMm,
  sayTravel,
  sayTravelApart,
  signedDegrees,
  signedMm,
} from "../../src/diagnosis/wording.ts";

describe("figures in sentences", () => {
  it("carry a true minus sign, never a hyphen, and a plus", () => {
    expect(signedMm(-0.012)).toBe("−12 mm");
    expect(signedMm(0.003)).toBe("+3 mm");
    expect(signedMm(-0.0045, 1)).toBe("−4.5 mm");
    expect(signedDegrees(-0.0113446)).toBe("−0.65°");
    expect(signedDegrees(0.0113446)).toBe("+0.65°");
    expect(signedMm(-0.012)).not.toContain("-");
  });

  it("have no sign where they round to nothing", () => {
    expect(signedMm(0)).toBe("0 mm");
    expect(signedMm(-0.0004)).toBe("0 mm");
    expect(signedMm(0.00004, 1)).toBe("0.0 mm");
    expect(signedDegrees(-0.00001)).toBe("0.00°");
  });

  it("stand without a sign where the words say which way", () => {
    expect(plainMm(-0.0734)).toBe("73 mm");
    expect(plainMm(0.0045, 1)).toBe("4.5 mm");
    expect(plainDegrees(-0.0113446)).toBe("0.65°");
  });
});

describe("the brakes' free travel", () => {
  it("is said by side, and that it is used up where it is", () => {
    expect(sayTravel({ left: 0.008, right: -0.004 })).toBe("left 8 mm, right used up and 4 mm more");
    expect(sayTravel({ right: 0.0001 })).toBe("right used up");
    expect(sayTravel({})).toBe("");
  });

  it("is told of the lines alone and of the model, each with why the other differs and that the smaller counts", () => {
    const lines = sayTravelApart("lines", { left: 0.027, right: 0.017 });
    expect(lines).toMatch(/counted on the brake lines alone.*In the model it is left 27 mm, right 17 mm/);
    const model = sayTravelApart("model", { left: 0.008, right: -0.004 });
    expect(model).toMatch(
      /^In the model .*On the brake lines alone it is left 8 mm, right used up and 4 mm more/,
    );
    for (const said of [lines, model, sayTravelApart("lines"), sayTravelApart("model")]) {
      expect(said).toContain("short rear rows lower the trailing edge");
      expect(said).toMatch(/The smaller counts\.$/);
      expect(said).not.toMatch(/is +[.:]/);
    }
  });
});
