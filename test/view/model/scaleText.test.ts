import { describe, expect, it } from "vitest";
import { deviationScaleOf } from "../../../src/diagnosis/scale.ts";
import { neutralText } from "../../../src/view/model/scaleText.ts";

describe("the words of the colour scale's grey", () => {
  it("give its half width and what can't be told within it, of paths and of single lines", () => {
    expect(neutralText(deviationScaleOf(0.02, 0.0031), "path")).toMatch(/to ±3\.1 mm: a path/);
    expect(neutralText(deviationScaleOf(0.02, 0.004), "line")).toMatch(/to ±4 mm: a line/);
  });

  it("say where the scale is too narrow for its uncertainty, with both figures", () => {
    expect(neutralText(deviationScaleOf(0.01, 0.0082), "path")).toMatch(
      /to ±5 mm only; to ±8\.2 mm .*wider scale/,
    );
  });

  it("say nothing where no uncertainty is known", () => {
    expect(neutralText(deviationScaleOf(0.02), "path")).toBeUndefined();
  });
});
