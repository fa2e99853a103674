import { describe, expect, test } from "vitest";
import { line, only, placeOf, problemsAfter, tab } from "./broken.ts";

describe("brake lines", () => {
  test("run through the pulley, not from a maillon", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "K1"), { hangsOn: "D" })));
    expect(found).toMatchObject({ severity: "error", subject: "K1" });
    expect(found.message).toContain('"pulley" was expected');
  });

  test("are the only ones on the pulley", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "D2"), { hangsOn: "pulley" })));
    expect(found).toMatchObject({ severity: "error", subject: "D2" });
  });

  test("share no line with the rows, told once where the two meet", () => {
    const found = only(
      problemsAfter((_, half) => {
        line(half, "K1.2").hangsOn = "D1";
      }),
    );
    expect(found).toMatchObject({ severity: "error", subject: "K1.2" });
    expect(found.message).toContain("hangs on D1 of row D");
  });

  test("end at brake tabs", () => {
    const found = only(
      problemsAfter((_, half) => {
        tab(half, "K4").row = "D";
        tab(half, "K4").rib = 15;
      }),
    );
    expect(found).toMatchObject({ severity: "error", subject: "K4" });
  });
});

describe("a tab of another row than its line", () => {
  test("is worth a look", () => {
    const found = only(
      problemsAfter((_, half) => {
        tab(half, "C8").row = "D";
        tab(half, "C8").rib = 15;
      }),
    );
    expect(found).toMatchObject({
      severity: "warning",
      subject: "C8",
      where: `${placeOf("tabs", "C8")}.row`,
    });
  });

  test("is usual on the tip line", () => {
    expect(problemsAfter((_, half) => Object.assign(tab(half, "T1"), { row: "B" }))).toEqual([]);
  });
});

describe("a loop", () => {
  test("is set at a maillon, so one higher up is an error", () => {
    const found = only(
      problemsAfter((_, half) => {
        line(half, "B1.1").loop = { name: "extra turn", takeUpMm: 10 };
      }),
    );
    expect(found).toMatchObject({ severity: "error", subject: "B1.1" });
    expect(found.message).toContain("hangs on line B1");
  });

  test("isn't set at the pulley either", () => {
    const found = only(
      problemsAfter((_, half) => {
        line(half, "K1").loop = { name: "extra turn", takeUpMm: 10 };
      }),
    );
    expect(found.subject).toBe("K1");
  });
});
