import { describe, expect, it } from "vitest";
import {
  dateText,
  degreesText,
  deviationText,
  forceText,
  lengthText,
  signed,
  signedMm,
} from "../../../src/view/model/format.ts";

describe("figures on the screen", () => {
  it("carry a true minus sign for short and a plus for long", () => {
    expect(signedMm(-0.017)).toBe("−17");
    expect(signedMm(0.004)).toBe("+4");
    expect(deviationText(-0.0172, 1)).toBe("−17.2\u202fmm");
  });

  it("carry no sign where they round to nothing", () => {
    expect(signed(-0.4, 0)).toBe("0");
    expect(signed(0.04, 1)).toBe("0.0");
    expect(signed(-0.05001, 1)).toBe("−0.1");
  });

  it("say that a line wasn't measured instead of giving a figure", () => {
    expect(deviationText(undefined)).toBe("not measured");
    expect(signedMm(undefined)).toBe("–");
    expect(lengthText(undefined)).toBe("–");
  });

  it("turn SI into millimetres, decanewtons and degrees", () => {
    expect(lengthText(7.4214)).toBe("7421\u202fmm");
    expect(forceText(123.4)).toBe("12.3\u202fdaN");
    expect(degreesText(Math.PI / 180)).toBe("+1.00°");
  });

  it("write a date as a day, and leave alone what is none", () => {
    expect(dateText("2026-03-14")).toBe("14 March 2026");
    expect(dateText("2026-13-14")).toBe("2026-13-14");
    expect(dateText("spring")).toBe("spring");
  });
});
