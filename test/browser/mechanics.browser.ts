import type { Page } from "playwright-core";
import { describe, expect, it, vi } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { parsePlan } from "../../src/plan/index.ts";
import { useApp } from "./harness.ts";

const DESK = { viewport: { width: 1440, height: 900 } };
const PHONE = { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true };
const STILL = { ...DESK, reducedMotion: "reduce" as const };
const PATIENCE = { timeout: 45_000 };
const POLL = { timeout: 20_000 };
vi.setConfig({ testTimeout: 240_000 });

const school = parsePlan(DEMOS.school.plan);
if (!school.ok) throw new Error("The demo plan is faulty.");
const trimmer = school.value.settings[0]?.id ?? "";

async function drawn(page: Page): Promise<void> {
  await page.locator('[data-work="ready"]').waitFor(PATIENCE);
  await page.locator('[data-stage-ready="true"]').waitFor(PATIENCE);
  await settled(page);
}

/** Waits until the states asked for are solved and drawn. */
async function settled(page: Page): Promise<void> {
  await page.locator('[data-states="settled"]').waitFor(PATIENCE);
  await page.locator('[data-moving="false"]').waitFor(PATIENCE);
}

const tipHeight = async (page: Page): Promise<number> =>
  Number(await page.locator("[data-tip-z]").getAttribute("data-tip-z"));
const distance = async (page: Page): Promise<number> =>
  Number(await page.locator("[data-distance]").getAttribute("data-distance"));
const slider = (page: Page, name: string) => page.locator(`[data-slider="${name}"]`);
const deviationOf = (page: Page, tab: string) =>
  page.locator(`[data-chart="span"] [data-tab="${tab}"]`).getAttribute("aria-label");
const colourOf = (page: Page, tab: string) =>
  page.locator(`[data-chart="span"] [data-tab="${tab}"] circle`).last().getAttribute("fill");

describe("the rigging", () => {
  const app = useApp();

  it("moves the shape as it is slid, stands in the address, says what differs, and goes back to trim", async () => {
    const page = await app.open("/#pane=view", STILL);
    await drawn(page);
    const before = await tipHeight(page);
    expect(await page.locator("[data-rigging]").getAttribute("data-rigging")).toBe("");
    await slider(page, `rig-${trimmer}`).fill("80");
    await expect.poll(() => tipHeight(page), POLL).not.toBe(before);
    await settled(page);
    await expect.poll(() => page.url(), POLL).toContain(`rig=80@${trimmer}`);
    expect(await page.locator("[data-rigging]").getAttribute("data-rigging")).toContain("80 %");
    expect(await page.locator("[data-effect]").textContent()).toMatch(/nose down/);
    expect(await page.locator("[data-stage-caption]").textContent()).toContain("rigging drawn true");
    await app.shoot(page, "mechanics-rigging");
    await page.reload();
    await drawn(page);
    expect(await slider(page, `rig-${trimmer}`).inputValue()).toBe("80");
    await page.getByRole("button", { name: "Back to trim" }).click();
    await settled(page);
    await expect.poll(() => tipHeight(page), POLL).toBeCloseTo(before, 3);
    await expect.poll(() => page.url(), POLL).not.toContain("rig=");
  });

  it("takes the brakes' free travel by what is pulled, on the side that is pulled", async () => {
    const page = await app.open("/#pane=view", STILL);
    await drawn(page);
    const specified = page.locator('[data-travel="specified"]');
    await expect.poll(() => specified.textContent(), POLL).toContain("left 80 mm, right 80 mm");
    await page.getByLabel("both brakes together").uncheck();
    await slider(page, "rig-brake-left").fill("30");
    await expect.poll(() => specified.textContent(), POLL).toContain("left 50 mm, right 80 mm");
    await page.locator('[data-travel="measured"][data-short]').waitFor(PATIENCE);
  });
});

describe("a length that is tried", () => {
  const app = useApp();

  it("changes colours, charts and states at once, can be taken back and done again, and outlives a reload", async () => {
    const page = await app.open("/#line=left:C5", STILL);
    await drawn(page);
    const before = await deviationOf(page, "left:C5");
    const colour = await colourOf(page, "left:C5");
    const twin = await deviationOf(page, "right:C5");
    expect(await page.getByRole("radio", { name: "As tried" }).count()).toBe(0);
    expect(await page.locator("[data-trial-caution]").textContent()).toMatch(
      /no advice and no clearance to fly/,
    );

    await slider(page, "trial").focus();
    await page.keyboard.press("ArrowRight");
    await settled(page);
    await slider(page, "trial").fill("20");
    await expect.poll(() => deviationOf(page, "left:C5"), POLL).not.toBe(before);
    await settled(page);
    expect(await page.getByRole("radio", { name: "As tried" }).isChecked()).toBe(true);
    expect(await colourOf(page, "left:C5")).not.toBe(colour);
    expect(await deviationOf(page, "right:C5")).toBe(twin);
    expect(await page.locator("[data-stage-caption]").textContent()).toContain("As tried, over as measured");
    await expect.poll(() => page.url(), POLL).toContain("try=20@left:C5");

    await page.getByLabel(/twin too/).check();
    await expect.poll(() => deviationOf(page, "right:C5"), POLL).not.toBe(twin);
    await page.keyboard.press("Control+z");
    await expect.poll(() => deviationOf(page, "right:C5"), POLL).toBe(twin);
    await page.keyboard.press("Control+Shift+z");
    await expect.poll(() => deviationOf(page, "right:C5"), POLL).not.toBe(twin);

    await page.locator('[data-pane="lines"]').click();
    await expect.poll(() => page.locator("[data-trial-line]").count(), POLL).toBe(2);
    await app.shoot(page, "mechanics-tried");
    await page.getByRole("button", { name: "Remove C5 right" }).click();
    await expect.poll(() => deviationOf(page, "right:C5"), POLL).toBe(twin);
    await expect.poll(() => page.url(), POLL).not.toContain("right:C5");

    await page.goBack();
    await settled(page);
    expect(await page.locator("[data-trial]").getAttribute("data-trial")).toBe("20");
    await page.reload();
    await drawn(page);
    expect(await page.locator("[data-trial]").getAttribute("data-trial")).toBe("20");
    await page.locator('[data-pane="lines"]').click();
    await page.getByRole("button", { name: "Clear all" }).click();
    await expect.poll(() => deviationOf(page, "left:C5"), POLL).toBe(before);
    expect(await page.getByRole("radio", { name: "As tried" }).count()).toBe(0);
  });
});

describe("one rib from the side", () => {
  const app = useApp();

  it("opens from the incidence chart with its band, both sides, labelled with the same factor as the stage", async () => {
    const page = await app.open("/#shape=15", STILL);
    await drawn(page);
    const together = page.locator('[data-band-sort="together"]');
    await together.waitFor(PATIENCE);
    expect(Number(await together.getAttribute("data-band"))).toBeGreaterThan(20);
    expect(await page.locator('[data-band-sort="readings"]').count()).toBe(1);
    await expect
      .poll(() => page.locator("[data-readout]").textContent(), POLL)
      .toMatch(/95 % between.*[+−]\d\.\d\d° to [+−]\d\.\d\d°/);
    await page.locator('[data-incidence="right:10"]').click();
    await page.locator('[data-rib-pane="10"]').waitFor(PATIENCE);
    expect(page.url()).toContain("strip=rib");
    expect(await page.locator("[data-rib-factor]").textContent()).toContain("×15");
    await expect.poll(() => page.locator("svg[data-rib-side]").count(), POLL).toBe(2);
    expect(await page.locator('[data-rib-half="left"] [data-outline]').count()).toBe(2);
    const incidence = page.locator('[data-rib-half="left"] [data-figure="incidence"] td');
    expect(await incidence.textContent()).toMatch(/^[+−]\d\.\d\d°$/);
    const between = page.locator('[data-rib-half="left"] [data-figure="between"] td');
    expect(await between.textContent()).toMatch(/^[+−]\d\.\d\d° to [+−]\d\.\d\d°$/);
    const before = await page
      .locator('[data-rib-half="left"] [data-outline="measured"] path')
      .first()
      .getAttribute("d");
    await page.getByRole("button", { name: "Next rib towards the tips" }).click();
    await page.locator('[data-rib-pane]:not([data-rib-pane="10"])').waitFor(PATIENCE);
    expect(
      await page.locator('[data-rib-half="left"] [data-outline="measured"] path').first().getAttribute("d"),
    ).not.toBe(before);
    await app.shoot(page, "mechanics-rib");
  });
});

describe("what the figures rest on", () => {
  const app = useApp();

  it("is told in two folds: the assumptions' share at the middle and the tip, and how the canopy was found", async () => {
    const page = await app.open("/#pane=view", STILL);
    await drawn(page);
    const band = page.locator('[data-fold="band"]');
    await band.locator("summary").click();
    const text = await band.textContent();
    expect(text).toContain("Bending stiffness");
    expect(text).toMatch(/All together.*± \d\.\d\d°/);
    const fit = page.locator('[data-fold="fit"]');
    await fit.locator("summary").click();
    expect(await fit.textContent()).toMatch(/from the plan[\s\S]*found from the lengths/);
    expect(await fit.locator("[data-balance]").count()).toBe(2);
    expect(await fit.locator('[data-balance="measured"]').textContent()).toMatch(/in balance after \d+ step/);
    await app.shoot(page, "mechanics-folds");
  });
});

describe("a finding that is opened", () => {
  const app = useApp();

  it("brings its lines near, and Escape goes back to the view before", async () => {
    const page = await app.open("/", STILL);
    await drawn(page);
    const before = await distance(page);
    const single = page.locator("[data-finding]", { hasText: "BL2" }).first();
    await single.locator("button").first().click();
    await expect.poll(() => distance(page), POLL).toBeLessThan(0.9 * before);
    await settled(page);
    await app.shoot(page, "mechanics-framed");
    await page.keyboard.press("Escape");
    await expect.poll(() => distance(page), POLL).toBeCloseTo(before, 1);
  });
});

describe("on a phone", () => {
  const app = useApp();

  it("rigging, trial and rib have room: nothing overflows, and the caption stays clear of the risers", async () => {
    const page = await app.open("/#pane=view&line=left:C5&try=-10@left:C5&shown=tried", PHONE);
    await drawn(page);
    for (const pane of ["view", "span", "lines"]) {
      await page.locator(`[data-pane="${pane}"]`).tap();
      const width = await page.evaluate(() => {
        const body = document.getElementById("pane");
        return {
          page: document.documentElement.scrollWidth - innerWidth,
          pane: (body?.scrollWidth ?? 0) - (body?.clientWidth ?? 0),
        };
      });
      expect(width.page, `${pane}: page`).toBeLessThanOrEqual(0);
      expect(width.pane, `${pane}: pane`).toBeLessThanOrEqual(0);
    }
    await page.locator('[data-pane="span"]').tap();
    await expect.poll(() => page.locator("svg[data-rib-side]").count(), POLL).toBe(1);
    const stage = await page.locator("[data-foot]").boundingBox();
    const caption = await page.locator("[data-stage-caption]").boundingBox();
    const foot = Number(await page.locator("[data-foot]").getAttribute("data-foot"));
    expect((caption?.y ?? 0) - (stage?.y ?? 0)).toBeGreaterThan(foot);
    await app.shoot(page, "mechanics-phone");
  });
});
