import { describe, expect, it } from "vitest";
import { dateOfDay, dayNumber, hoursOn, hoursProblems } from "../../src/record/index.ts";

const entries = [
  { day: "2026-05-01", totalHours: 120 },
  { day: "2025-05-01", totalHours: 47 },
  { day: "2025-05-01", totalHours: 45 },
];

describe("flight hours on a day", () => {
  it("are those of the day’s entry, the higher of two", () => {
    expect(hoursOn(entries, "2025-05-01")).toEqual({ total: 47, between: false });
  });

  it("lie on the straight line between two entries", () => {
    const half = hoursOn(entries, dateOfDay((dayNumber("2025-05-01") + dayNumber("2026-05-01")) / 2));
    expect(half?.between).toBe(true);
    expect(half?.total).toBeCloseTo(83.5, 0);
  });

  it("aren’t known before the first entry, after the last, or without any", () => {
    expect(hoursOn(entries, "2025-04-30")).toBe(undefined);
    expect(hoursOn(entries, "2026-05-02")).toBe(undefined);
    expect(hoursOn([], "2026-05-02")).toBe(undefined);
  });

  it("that fall are told, as hours only grow", () => {
    expect(hoursProblems(entries)).toEqual([]);
    const [problem, ...more] = hoursProblems([...entries, { day: "2026-06-01", totalHours: 12 }]);
    expect(more).toEqual([]);
    expect(problem?.where).toBe("1 June 2026");
    expect(problem?.message).toBe("The flight hours fall from 120.0 to 12.0.");
  });
});

describe("days", () => {
  it("are counted from 1970 and back", () => {
    expect(dayNumber("1970-01-02")).toBe(1);
    expect(dateOfDay(dayNumber("2028-02-29"))).toBe("2028-02-29");
    expect(() => dayNumber("soon")).toThrow(RangeError);
  });
});
