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
  await settled(page);
}

async function settled(page: Page): Promise<void> {
  await page.locator('[data-states="settled"]').waitFor(PATIENCE);
  await page.locator('[data-moving="false"]').waitFor(PATIENCE);
}

async function planned(page: Page): Promise<void> {
  await drawn(page);
  await page.locator('[data-loops-pane="planned"]').waitFor(PATIENCE);
}

const tried = async (page: Page): Promise<number> =>
  Number(await page.locator("[data-loops-changes]").getAttribute("data-loops-changes"));
const stepper = (page: Page, key: string) => page.locator(`[data-loops-part="hand"] [data-loop-of="${key}"]`);
const loopOf = (page: Page, key: string) => stepper(page, key).getAttribute("data-loop");
const deviationOf = (page: Page, tab: string) =>
  page.locator(`[data-chart="span"] [data-tab="${tab}"]`).getAttribute("aria-label");
const incidence = (page: Page) => page.locator("[data-readout]").textContent();

const json = (name: string, value: unknown) => ({
  name,
  mimeType: "application/json",
  buffer: Buffer.from(JSON.stringify(value)),
});
const ownPlan = json("plan.json", {
  ...DEMOS.school.plan,
  wing: { ...DEMOS.school.plan.wing, name: "Bench wing" },
});
const ownCheck = json("check.json", { ...DEMOS.school.check, wing: "Bench wing" });

describe("the best loops", () => {
  const app = useApp();

  it("are chosen from the chart by pointer and keys; shape, incidence and lines follow, and can be taken back", async () => {
    const page = await app.open("/#pane=loops", STILL);
    await planned(page);
    const answer = page.locator("[data-loops-answer]");
    const lead = Number(await answer.getAttribute("data-loops-answer"));
    expect(lead).toBeGreaterThan(0);
    expect(await answer.textContent()).toContain(`${lead} changes of loop`);
    await app.shoot(page, "loops-first");
    const before = { deviation: await deviationOf(page, "left:C5"), incidence: await incidence(page) };

    await page.locator(`[data-plan="${lead}"]`).click();
    await settled(page);
    expect(await tried(page)).toBe(lead);
    expect(await page.getByRole("radio", { name: "As tried" }).isChecked()).toBe(true);
    await expect.poll(() => deviationOf(page, "left:C5"), POLL).not.toBe(before.deviation);
    expect(await incidence(page)).not.toBe(before.incidence);
    await expect.poll(() => page.url(), POLL).toMatch(/loop=[a-z-]+@left:/);
    await expect
      .poll(() => page.locator("[data-loops-summary]").textContent(), POLL)
      .toContain(`As tried ${lead} changes of loop`);
    await app.shoot(page, "loops-tried");

    await page.locator(`[data-plan="${lead}"]`).focus();
    await page.keyboard.press("ArrowLeft");
    await page.keyboard.press("Enter");
    await settled(page);
    const fewer = await tried(page);
    expect(fewer).toBeLessThan(lead);
    await page.getByRole("button", { name: "More changes" }).click();
    await expect.poll(() => tried(page), POLL).toBe(lead);
    await page.keyboard.press("Control+z");
    await expect.poll(() => tried(page), POLL).toBe(fewer);
    await page.getByRole("button", { name: "Loops as they are" }).click();
    await expect.poll(() => deviationOf(page, "left:C5"), POLL).toBe(before.deviation);
    expect(await page.getByRole("radio", { name: "As tried" }).count()).toBe(0);
  });

  it("can be left one by one, laid aside, held beside each other and changed over", async () => {
    const page = await app.open("/#pane=loops", STILL);
    await planned(page);
    await page.getByRole("button", { name: /^Try \d+ changes/ }).click();
    await settled(page);
    const all = await tried(page);
    await page.getByRole("button", { name: "Lay aside" }).click();
    const first = page.locator("[data-change][data-tried]").first();
    const lines = ((await first.getAttribute("data-change")) ?? "").split(" ");
    await page
      .locator(`[data-change="${lines.join(" ")}"]`)
      .getByRole("checkbox")
      .uncheck();
    await settled(page);
    expect(await tried(page)).toBe(all - lines.length);
    const figure = (of: string) =>
      page.locator(`[data-loops-compare] [data-figure="changes"] [data-of="${of}"]`).textContent();
    expect(await figure("tried")).toBe(String(all - lines.length));
    expect(await figure("aside")).toBe(String(all));
    expect(await page.locator("[data-loops-differ]").getAttribute("data-loops-differ")).toBe("1");
    await page.getByRole("button", { name: "Change over" }).click();
    await expect.poll(() => figure("tried"), POLL).toBe(String(all));
    expect(await figure("aside")).toBe(String(all - lines.length));
    const [line = ""] = lines;
    await page.locator(`[data-change~="${line}"]`).getByRole("button", { name: /^Show/ }).first().click();
    await page.locator(`[data-readout="${line}"]`).waitFor(PATIENCE);
  });

  it("are others by other choices, which are kept in the book and can be taken back", async () => {
    const page = await app.open("/#pane=loops", STILL);
    await planned(page);
    const answer = page.locator("[data-loops-answer] h2");
    const before = await answer.textContent();
    await page.getByRole("button", { name: "Choices" }).click();
    const most = page.locator('[data-number="mostChanges"]');
    await most.fill("2");
    await most.press("Enter");
    await expect.poll(() => answer.textContent(), POLL).toBe("The best plan has 2 changes of loop");
    await most.blur();
    await page.locator("[data-loops-answer] h2").click();
    await page.keyboard.press("Control+z");
    await expect.poll(() => answer.textContent(), POLL).toBe(before);
    await page.locator('[data-number="mostTakeUp"]').fill("5");
    await page.locator('[data-number="mostTakeUp"]').press("Enter");
    await expect
      .poll(() => page.locator("[data-loops-limit]").textContent(), POLL)
      .toContain("no loop takes up more than 5 mm");
  });

  it("are none where none is worth it", async () => {
    const page = await app.open("/#wing=second&pane=loops", STILL);
    await planned(page);
    expect(await page.locator("[data-loops-answer]").textContent()).toContain(
      "No change of loop is worth it",
    );
    expect(await page.locator("[data-loops-chart]").count()).toBe(0);
    expect(await page.locator("[data-caution]").last().isVisible()).toBe(true);
  });
});

describe("a loop that is changed by hand", () => {
  const app = useApp();

  it("moves that line, or its twin too; is undone and done again; and stands among what is tried", async () => {
    const page = await app.open("/#pane=loops", STILL);
    await planned(page);
    const before = { left: await deviationOf(page, "left:A2"), right: await deviationOf(page, "right:A2") };
    const tighter = stepper(page, "left:AL1").getByRole("button", { name: /tighter/ });
    const was = await loopOf(page, "left:AL1");
    await tighter.click();
    await settled(page);
    expect(await loopOf(page, "left:AL1")).not.toBe(was);
    expect(await loopOf(page, "right:AL1")).toBe(was);
    await expect.poll(() => deviationOf(page, "left:A2"), POLL).not.toBe(before.left);
    expect(await deviationOf(page, "right:A2")).toBe(before.right);
    expect(
      await page.locator('[data-loops-compare] [data-figure="changes"] [data-of="tried"]').textContent(),
    ).toBe("1");

    await page.locator("[data-loops-twin]").check();
    await tighter.click();
    await settled(page);
    expect(await loopOf(page, "right:AL1")).toBe(await loopOf(page, "left:AL1"));
    await expect.poll(() => deviationOf(page, "right:A2"), POLL).not.toBe(before.right);
    await page.keyboard.press("Control+z");
    await expect.poll(() => loopOf(page, "right:AL1"), POLL).toBe(was);
    await page.keyboard.press("Control+Shift+z");
    await expect.poll(() => loopOf(page, "right:AL1"), POLL).not.toBe(was);
    await expect.poll(() => page.url(), POLL).toContain("@right:AL1");
    await page.reload();
    await planned(page);
    expect(await loopOf(page, "right:AL1")).not.toBe(was);

    await page.locator('[data-pane="lines"]').click();
    expect(await page.locator("[data-trial-loop]").count()).toBe(2);
    await page.getByRole("button", { name: "Leave the loop of AL1 right as it is" }).click();
    await expect.poll(() => page.locator("[data-trial-loop]").count(), POLL).toBe(1);
    await page.getByRole("button", { name: "Clear all" }).click();
    await expect.poll(() => deviationOf(page, "left:A2"), POLL).toBe(before.left);
  });

  it("is changed right at the line that is picked", async () => {
    const page = await app.open("/#line=left:CL1", STILL);
    await drawn(page);
    const card = page.locator('[data-at-maillon="left:CL1"]');
    const before = await deviationOf(page, "left:C5");
    await card.getByRole("button", { name: /looser/ }).click();
    await settled(page);
    await expect.poll(() => page.url(), POLL).toContain("@left:CL1");
    expect(await card.textContent()).toMatch(/\+\d+\.\d mm; was girth hitch/);
    expect(await page.locator("[data-readout]").textContent()).toContain("with what is tried");
    expect(before).toBeTruthy();
    await page.locator('[data-readout="left:CL1"] [data-trial]').waitFor(PATIENCE);
  });
});

describe("the bench's book", () => {
  const app = useApp();

  it("has readings that replace estimates, and loops as they are; for an own wing it outlives a reload", async () => {
    const page = await app.open("/#pane=files", STILL);
    await drawn(page);
    await page.locator('[data-input="files"]').setInputFiles([ownPlan, ownCheck]);
    await page.locator('[data-pane="loops"]').click();
    await planned(page);
    const answer = page.locator("[data-loops-answer] h2");
    await page.getByRole("button", { name: "Choices" }).click();
    await page.locator('[data-number="worth"]').fill("2");
    await page.locator('[data-number="worth"]').press("Enter");
    await expect
      .poll(() => answer.textContent(), POLL)
      .toMatch(/changes of loop give nine tenths of it; the best plan has \d+/);
    await answer.scrollIntoViewIfNeeded();
    await app.shoot(page, "loops-nine-tenths");

    await page.getByRole("button", { name: "Take-ups" }).click();
    const girth = page.locator('[data-take-up="girth"]').first();
    expect(await girth.locator('[data-of="bench"]').textContent()).toBe("–");
    const estimate = await girth.locator('[data-of="estimate"]').textContent();
    await page.locator('[data-bench-entry="kind"]').selectOption("girth");
    await page.locator('[data-bench-entry="takeUp"]').fill("far too much");
    await page.getByRole("button", { name: "Enter it" }).click();
    expect(await page.locator('[data-loops-part="take-ups"] [role="alert"]').textContent()).toContain(
      "far too much",
    );
    await page.locator('[data-bench-entry="takeUp"]').fill("16,4");
    await page.getByRole("button", { name: "Enter it" }).click();
    await expect.poll(() => girth.locator('[data-of="bench"]').textContent(), POLL).toBe("16.4 ± 0.5");
    expect(await girth.locator('[data-of="estimate"]').textContent()).toBe(estimate);
    expect(await girth.locator('[data-of="estimate"]').getAttribute("data-replaced")).toBe("true");

    await page.locator('[data-bench-entry="kind"]').selectOption("turn");
    await page.locator('[data-bench-entry="how"]').selectOption("lengths");
    await page.locator('[data-bench-entry="plain"]').fill("1220.0");
    await page.locator('[data-bench-entry="looped"]').fill("1209.0 1210.0");
    await page.getByRole("button", { name: "Enter it" }).click();
    const turn = page.locator('[data-take-up="turn"]').first();
    await expect.poll(() => turn.locator('[data-of="bench"]').textContent(), POLL).toMatch(/^10\.5 ± /);
    await app.shoot(page, "loops-take-ups");

    await page.getByRole("button", { name: "As they are", exact: true }).click();
    await page.locator('[data-present="row-C"]').selectOption("plain");
    await expect.poll(() => loopOf(page, "left:CL1"), POLL).toBe("plain");
    const download = page.waitForEvent("download");
    await page.getByRole("button", { name: "Take the book along" }).click();
    expect((await download).suggestedFilename()).toBe("loops Bench wing.json");

    await page.reload();
    await planned(page);
    expect(await loopOf(page, "left:CL1")).toBe("plain");
    await page.getByRole("button", { name: "Take-ups" }).click();
    expect(await girth.locator('[data-of="bench"]').textContent()).toBe("16.4 ± 0.5");
  });

  it("lets loops be changed by hand where there are no readings, and no plan", async () => {
    const page = await app.open("/#pane=files", STILL);
    await drawn(page);
    await page.locator('[data-input="files"]').setInputFiles([ownPlan]);
    await page.locator('[data-pane="loops"]').click();
    await page.locator('[data-loops-pane="no readings"]').waitFor(PATIENCE);
    await drawn(page);
    expect(await page.locator("[data-loops-answer]").count()).toBe(0);
    await stepper(page, "left:AL1")
      .getByRole("button", { name: /tighter/ })
      .click();
    await settled(page);
    expect(await tried(page)).toBe(1);
    expect(await page.locator("[data-stage-caption]").textContent()).toContain("As tried");
  });
});

describe("on a phone", () => {
  const app = useApp();

  it("nothing overflows with all of it open, and a loop is changed at the thumb", async () => {
    const page = await app.open("/#pane=loops&line=left:CL1", PHONE);
    await planned(page);
    await page.evaluate(() => {
      for (const fold of document.querySelectorAll<HTMLDetailsElement>("[data-loops-pane] details"))
        fold.open = true;
    });
    const width = await page.evaluate(() => {
      const body = document.getElementById("pane");
      return {
        page: document.documentElement.scrollWidth - innerWidth,
        pane: (body?.scrollWidth ?? 0) - (body?.clientWidth ?? 0),
      };
    });
    expect(width).toEqual({ page: 0, pane: 0 });
    await page
      .locator('[data-at-maillon="left:CL1"]')
      .getByRole("button", { name: /looser/ })
      .tap();
    await expect.poll(() => page.url(), POLL).toContain("@left:CL1");
    await settled(page);
    await app.shoot(page, "loops-phone");
  });
});
