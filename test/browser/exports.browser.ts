import { readFileSync } from "node:fs";
import { strFromU8, unzipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { useApp } from "./harness.ts";

const PATIENCE = { timeout: 60_000 };

describe("what is taken along", () => {
  const app = useApp();

  it("is everything as one archive, made while the page goes on: tables, charts, the wing in 3D, plan and readings", async () => {
    const page = await app.open("/#wing=school&pane=files");
    await page.locator('[data-work="ready"][data-states="settled"]').waitFor(PATIENCE);
    const coming = page.waitForEvent("download", PATIENCE);
    await page.locator('[data-take="all"]').click();
    const download = await coming;
    expect(download.suggestedFilename()).toBe("tidewrack-28-2026-03-14.zip");
    const files = unzipSync(readFileSync(await download.path()));
    const names = Object.keys(files);
    for (const ending of [
      "about.txt",
      "tables.xlsx",
      "deviations.csv",
      "deviation.svg",
      "measured.glb",
      "plan.json",
      "check.json",
    ])
      expect(
        names.filter((name) => name.endsWith(ending)),
        ending,
      ).toHaveLength(1);
    const about = names.find((name) => name.endsWith("about.txt")) ?? "";
    expect(strFromU8(files[about] ?? new Uint8Array())).toContain("clearance to fly");
    const scene = names.find((name) => name.endsWith("measured.glb")) ?? "";
    expect(strFromU8((files[scene] ?? new Uint8Array()).slice(0, 4))).toBe("glTF");
    await page.locator('[data-take="all"]:enabled').waitFor(PATIENCE);
  });
});
