import type { Page } from "playwright-core";
import { describe, expect, it, vi } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { useApp } from "./harness.ts";

const STILL = { viewport: { width: 1440, height: 900 }, reducedMotion: "reduce" as const };
const PHONE = { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true };
const PATIENCE = { timeout: 45_000 };
const POLL = { timeout: 20_000 };
vi.setConfig({ testTimeout: 240_000 });

async function drawn(page: Page): Promise<void> {
  await page.locator('[data-work="ready"]').waitFor(PATIENCE);
  await page.locator('[data-stage-ready="true"]').waitFor(PATIENCE);
  await page.locator('[data-moving="false"]').waitFor(PATIENCE);
}

const judged = (page: Page) => page.locator('[data-limits="done"]').waitFor(PATIENCE);

describe("the limits", () => {
  const app = useApp();

  it("hold every reading against its limit, rows against rows, and lead to the lines and to the strip", async () => {
    const page = await app.open("/#pane=limits", STILL);
    await drawn(page);
    await judged(page);
    expect(await page.locator("[data-decision]").count()).toBeGreaterThan(0);
    expect(await page.locator('[data-judging="rows"] [data-rows="AD"]').textContent()).toMatch(/\d/);
    expect(await page.locator('[data-judging="next"] [data-line]').count()).toBeGreaterThan(0);
    await page.locator("[data-decision]").first().click();
    await page.getByRole("heading", { name: /^\d+ lines$/ }).waitFor(PATIENCE);
    const undecided = page.locator('[data-judging="decisions"]').getByText(/^Undecided \d+$/);
    const before = await undecided.textContent();
    await page.locator('[data-fold="judging"] > summary').click();
    await page.locator('[data-fold="judging"] input[value="simple acceptance"]').check();
    await expect.poll(() => undecided.textContent(), POLL).toBe("Undecided 0");
    expect(before).not.toBe("Undecided 0");
    await page.locator('[data-strip="pairs"]').click();
    await page.locator('[data-judging="pairs"]').waitFor(PATIENCE);
    expect(page.url()).toContain("strip=pairs");
    await page.locator('[data-strip="sides"]').click();
    await page.locator('[data-judging="span"]').waitFor(PATIENCE);
    await app.shoot(page, "judging-limits");
  });

  it("ask first about a slip of 100 mm; correcting it on sight of the change takes its finding away, undo brings it back", async () => {
    const page = await app.open("/#pane=files", STILL);
    await drawn(page);
    const check = structuredClone(DEMOS.second.check) as {
      readings: { tab?: string; side: string; mm: number }[];
    };
    for (const reading of check.readings)
      if (reading.tab === "C5" && reading.side === "right") reading.mm += 100;
    const file = (name: string, value: unknown) => ({
      name,
      mimeType: "application/json",
      buffer: Buffer.from(JSON.stringify(value)),
    });
    await page
      .locator('input[type="file"]')
      .first()
      .setInputFiles([file("a.plan.json", DEMOS.second.plan), file("a.check.json", check)]);
    await page.locator('[data-pane="findings"]').click();
    const first = page.locator("[data-look-first]");
    await first.waitFor(PATIENCE);
    const finding = page.locator("[data-finding]", { hasText: "C5" });
    expect(await first.textContent()).toMatch(/^1 reading looks mistaken/);
    expect(await finding.count()).toBeGreaterThan(0);
    await first.click();
    const suspicion = page.locator("[data-suspicion]", { hasText: "C5 right" });
    await suspicion.getByRole("button", { name: "Use the corrected reading" }).click();
    await page.locator("[data-confirm]").waitFor(PATIENCE);
    await app.shoot(page, "judging-confirm");
    expect(await page.locator('[data-list="applied"]').count()).toBe(0);
    await page.getByRole("button", { name: "Correct this reading" }).click();
    await page.locator('[data-list="applied"]').waitFor(PATIENCE);
    await expect.poll(() => suspicion.count(), POLL).toBe(0);
    await page.locator('[data-pane="findings"]').click();
    await expect.poll(() => finding.count(), POLL).toBe(0);
    await page.reload();
    await drawn(page);
    await page.locator('[data-pane="limits"]').click();
    await judged(page);
    await page.locator('[data-list="applied"]').getByRole("button", { name: "Undo" }).click();
    await suspicion.waitFor(PATIENCE);
    await page.locator('[data-pane="findings"]').click();
    await finding.first().waitFor(PATIENCE);
  });

  it("stand beside the colour of the line alone, which is another one than that of its paths", async () => {
    const page = await app.open("/#line=left:C5", STILL);
    await drawn(page);
    await page.locator('[data-fold="line"]').waitFor(PATIENCE);
    expect(await page.locator('[data-fold="line"] > summary').textContent()).toMatch(/±\d/);
    const stage = page.locator("[data-work]");
    const pointer = page.locator('[aria-label^="Colour scale"] path[fill="var(--mark)"]');
    const place = await pointer.getAttribute("d");
    const picture = await page.locator("canvas").first().screenshot();
    await page.locator('[data-choice="colour"]').selectOption("line");
    await expect.poll(() => stage.getAttribute("data-coloured-by"), POLL).toBe("line");
    await expect.poll(() => pointer.getAttribute("d"), POLL).not.toBe(place);
    await expect.poll(() => page.url(), POLL).toContain("colour=line");
    await page.locator('[data-moving="false"]').waitFor(PATIENCE);
    expect((await page.locator("canvas").first().screenshot()).equals(picture)).toBe(false);
  });

  it("have room on a phone: nothing overflows in the panes, the charts stand below each other", async () => {
    const page = await app.open("/#pane=limits", PHONE);
    await drawn(page);
    await judged(page);
    for (const pane of ["limits", "span", "view"]) {
      await page.locator(`[data-pane="${pane}"]`).tap();
      if (pane === "limits") await page.locator('[data-fold="judging"] > summary').click();
      if (pane === "span") await page.locator('[data-judging="span"]').waitFor(PATIENCE);
      const width = await page.evaluate(() => {
        const body = document.getElementById("pane");
        return [
          document.documentElement.scrollWidth - innerWidth,
          (body?.scrollWidth ?? 0) - (body?.clientWidth ?? 0),
        ];
      });
      expect(Math.max(...width), pane).toBeLessThanOrEqual(0);
      await app.shoot(page, `judging-phone-${pane}`);
    }
  });
});
