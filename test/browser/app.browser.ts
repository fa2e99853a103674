import type { Page } from "playwright-core";
import { describe, expect, it, vi } from "vitest";
import { DEMOS, demoFiles } from "../../src/demo/index.ts";
import { parsePlan } from "../../src/plan/index.ts";
import { readingsTemplate } from "../../src/view/model/template.ts";
import { useApp } from "./harness.ts";

const DESK = { viewport: { width: 1440, height: 900 } };
const PHONE = { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true };
const PATIENCE = { timeout: 45_000 };
vi.setConfig({ testTimeout: 240_000 });

const [schoolPlan] = demoFiles();
if (schoolPlan === undefined) throw new Error("The demo has no files.");
const school = parsePlan(DEMOS.school.plan);
if (!school.ok) throw new Error("The demo plan is faulty.");
const wing = school.value;

/** Waits until the wing is calculated. */
async function calculated(page: Page): Promise<void> {
  await page.locator('[data-work="ready"]').waitFor(PATIENCE);
}

async function drawn(page: Page): Promise<void> {
  await page.locator('[data-stage-ready="true"]').waitFor(PATIENCE);
}

function file(name: string, text: string) {
  return { name, mimeType: "text/plain", buffer: Buffer.from(text) };
}

/** A filled sheet for the school wing: all tabs as specified, save what `offMm` says. */
function filledSheet(offMm: (id: string) => number): string {
  const specified = new Map(
    wing.paths.map((path) => [path.tabKey.replace(/^\w+:/, ""), Math.round(path.specifiedM * 1000)]),
  );
  return readingsTemplate(wing)
    .split("\r\n")
    .map((row) => {
      const id = /^([^#,]+),,$/.exec(row)?.[1];
      const mm = id === undefined ? undefined : specified.get(id);
      return id === undefined || mm === undefined ? row : `${id},${mm + offMm(id)},${mm + offMm(id)}`;
    })
    .join("\r\n");
}

async function bring(page: Page, ...files: ReturnType<typeof file>[]): Promise<void> {
  await page.locator('[data-pane="files"]').click();
  await page.locator('[data-input="files"]').setInputFiles(files);
}

describe("the first screen", () => {
  const app = useApp();

  it("shows the school wing in 3D and, in words and gravest first, what is the matter with it", async () => {
    const page = await app.open("/", DESK);
    await calculated(page);
    await drawn(page);
    expect(await page.locator("h1").textContent()).toContain(wing.name);
    const severities = await page
      .locator("[data-finding]")
      .evaluateAll((items) => items.map((item) => item.getAttribute("data-severity")));
    expect(severities[0]).toBe("act");
    const rank = severities.map((severity) => ["act", "watch", "fine"].indexOf(severity ?? ""));
    expect(rank).toEqual([...rank].sort((a, b) => a - b));
    expect(await page.locator("[data-finding]").first().textContent()).toMatch(/brake/i);
    expect(await page.locator("[data-caution]").first().textContent()).toMatch(/not a clearance to fly/i);
    await app.shoot(page, "app-first");
  });

  it("goes to the other built-in wing and back again with the browser's back", async () => {
    const page = await app.open("/", DESK);
    await calculated(page);
    await page.locator('[data-input="wing"]').selectOption("second");
    await page.locator("h1", { hasText: DEMOS.second.plan.wing.name }).waitFor();
    expect(page.url()).toContain("wing=second");
    await page.goBack();
    await page.locator("h1", { hasText: wing.name }).waitFor();
    await calculated(page);
  });
});

describe("states and shape", () => {
  const app = useApp();

  it("stand in the address and beside the picture, and come back from it", async () => {
    const page = await app.open("/", DESK);
    await calculated(page);
    await drawn(page);
    await page.getByRole("radio", { name: "As specified" }).check({ force: true });
    await expect.poll(() => page.url()).toContain("shown=specified");
    await page.getByRole("radio", { name: "Both" }).check({ force: true });
    await expect.poll(() => page.url()).toContain("shown=both");
    await page.getByRole("slider").fill("25");
    await expect.poll(() => page.url()).toContain("shape=25");
    expect(await page.locator("output", { hasText: "×25" }).count()).toBe(1);
    await expect.poll(() => page.locator("[data-stage-caption]").textContent()).toContain("25");
    await page.reload();
    await calculated(page);
    expect(await page.getByRole("radio", { name: "Both" }).isChecked()).toBe(true);
    expect(await page.getByRole("slider").inputValue()).toBe("25");
    await page.getByRole("radio", { name: "As measured" }).check({ force: true });
    await page.goBack();
    await expect.poll(() => page.getByRole("radio", { name: "Both" }).isChecked()).toBe(true);
  });
});

describe("the chart, the list and the picture", () => {
  const app = useApp();

  it("light the same line: a point of the chart under the pointer lights it in 3D", async () => {
    const page = await app.open("/", DESK);
    await calculated(page);
    await drawn(page);
    const point = page.locator('[data-chart="span"] [data-tab="left:B5"]');
    const line = await point.getAttribute("data-line");
    await point.hover();
    await expect.poll(() => page.locator("[data-hovered]").getAttribute("data-hovered")).toBe(line);
    expect(await page.locator("[data-readout]").getAttribute("data-readout")).toBe(line);
  });

  it("light the same line: one found by name is marked in the chart at every tab it bears", async () => {
    const page = await app.open("/", DESK);
    await calculated(page);
    await page.keyboard.press("/");
    await page.locator("#line-search").fill("BL2 left");
    await page.keyboard.press("Enter");
    await expect.poll(() => page.url()).toContain("line=left:BL2");
    const marked = await page
      .locator('[data-chart="span"] [data-picked]')
      .evaluateAll((points) => points.map((point) => point.getAttribute("data-tab")));
    const borne = wing.paths.filter((path) => path.lineKeys.includes("left:BL2")).map((path) => path.tabKey);
    expect(new Set(marked)).toEqual(new Set(borne));
    await page.locator("#line-search").blur();
    await page.keyboard.press("Escape");
    await expect.poll(() => page.url()).not.toContain("line=");
  });

  it("can be walked with the keyboard", async () => {
    const page = await app.open("/", DESK);
    await calculated(page);
    const first = page.locator('[data-chart="span"] [data-tab][tabindex="0"]').first();
    await first.focus();
    const from = await first.getAttribute("data-tab");
    await page.keyboard.press("ArrowRight");
    const to = await page.evaluate(() => document.activeElement?.getAttribute("data-tab"));
    expect(to).toBeTruthy();
    expect(to).not.toBe(from);
    await page.keyboard.press("Enter");
    await expect.poll(() => page.url()).toContain("line=");
  });

  it("show the lines of a finding when it is opened", async () => {
    const page = await app.open("/", DESK);
    await calculated(page);
    const finding = page.locator('[data-finding][data-severity="act"]').nth(1);
    await finding.locator("button").first().click();
    await expect.poll(() => page.url()).toContain("finding=");
    expect(await page.locator('[data-chart="span"] [data-picked]').count()).toBeGreaterThan(0);
  });
});

describe("files that are brought", () => {
  const app = useApp();

  it("a plan and a sheet with D 20 mm short: the table of rows and the findings say so", async () => {
    const page = await app.open("/", DESK);
    await calculated(page);
    await bring(
      page,
      file("mine.json", schoolPlan.text),
      file(
        "mine.csv",
        filledSheet((id) => (/^D/.test(id) ? -20 : 0)),
      ),
    );
    await page.getByRole("button", { name: "Use these readings" }).click();
    await calculated(page);
    expect(page.url()).toContain("wing=own");
    await page.locator('[data-pane="rows"]').click();
    const d = page.locator('[data-table="rows"] tr[data-row="D"]');
    await expect.poll(() => d.textContent(), PATIENCE).toContain("−20");
    expect(await page.locator('[data-table="rows"] tr[data-row="A"]').textContent()).not.toContain("−20");
    await page.locator('[data-pane="findings"]').click();
    expect(await page.locator("[data-finding]").first().textContent()).toMatch(/row D/i);
    await page.reload();
    await calculated(page);
    await page.locator('[data-pane="rows"]').click();
    expect(await d.textContent()).toContain("−20");
  });

  it("a bad row of a sheet is named by its number with what to do, and the good rows count", async () => {
    const page = await app.open("/", DESK);
    await calculated(page);
    const rows = filledSheet(() => 0).split("\r\n");
    const bad = rows.findIndex((row) => row.startsWith("A3,"));
    rows[bad] = "A3,seven,";
    await bring(page, file("mine.csv", rows.join("\r\n")));
    await page.getByRole("button", { name: "Use these readings" }).click();
    await calculated(page);
    const problem = page.locator("[data-problem]", { hasText: "seven" });
    await expect.poll(() => problem.textContent(), PATIENCE).toMatch(new RegExp(`\\b${bad + 1}\\b`));
    await page
      .locator("dd:visible", { hasText: `${wing.tabs.length - 2} of ${wing.tabs.length} tabs` })
      .first()
      .waitFor(PATIENCE);
  });

  it("a bad plan leaves the wing in place and says what is wrong where", async () => {
    const page = await app.open("/", DESK);
    await calculated(page);
    await bring(page, file("bad.json", schoolPlan.text.replace('"lengthMm"', '"length"')));
    const receipt = page.locator('[data-outcome="not taken"]');
    await receipt.waitFor();
    expect(await receipt.textContent()).toContain(`${wing.name} stays on the screen`);
    expect(await page.locator("[data-problem]").count()).toBeGreaterThan(0);
    expect(await page.locator("h1").textContent()).toContain(wing.name);
    expect(page.url()).toContain("wing=school");
    await app.shoot(page, "app-bad-plan");
  });

  it("a plan alone shows the wing as specified and invites readings", async () => {
    const page = await app.open("/", DESK);
    await calculated(page);
    await bring(page, file("mine.json", schoolPlan.text));
    await calculated(page);
    await page.locator('[data-pane="findings"]').click();
    await page.getByRole("heading", { name: "No readings yet" }).waitFor(PATIENCE);
    expect(await page.getByRole("radio", { name: "As specified" }).isChecked()).toBe(true);
    expect(await page.getByRole("radio", { name: "As measured" }).isDisabled()).toBe(true);
    await app.shoot(page, "app-unread");
  });
});

describe("on a phone", () => {
  const app = useApp();
  const panes = ["findings", "span", "rows", "lines", "view", "files"];

  it("nothing overflows, no two controls overlap, and all are big enough for a thumb", async () => {
    const page = await app.open("/#line=left:BL2", PHONE);
    await calculated(page);
    for (const pane of panes) {
      await page.locator(`[data-pane="${pane}"]`).tap();
      const found = await page.evaluate(() => {
        const width = document.documentElement.scrollWidth;
        const seen = (element: Element): DOMRect | undefined => {
          let box = element.getBoundingClientRect();
          for (let parent = element.parentElement; parent !== null; parent = parent.parentElement) {
            if (getComputedStyle(parent).overflow === "visible") continue;
            const clip = parent.getBoundingClientRect();
            if (
              clip.top >= box.bottom ||
              clip.bottom <= box.top ||
              clip.left >= box.right ||
              clip.right <= box.left
            )
              return undefined;
            const left = Math.max(box.left, clip.left);
            const top = Math.max(box.top, clip.top);
            box = new DOMRect(
              left,
              top,
              Math.min(box.right, clip.right) - left,
              Math.min(box.bottom, clip.bottom) - top,
            );
          }
          return box.width > 2 && box.height > 2 ? box : undefined;
        };
        const controls = [
          ...document.querySelectorAll("button, select, summary, label:has(input), input[type=search]"),
        ];
        const covered: string[] = [];
        const small: string[] = [];
        for (const control of controls) {
          const box = control.checkVisibility() ? seen(control) : undefined;
          if (box === undefined) continue;
          const name = control.textContent?.slice(0, 30) || control.tagName;
          const whole = control.getBoundingClientRect();
          if (box.height > whole.height - 1 && (whole.height < 43.5 || whole.width < 40))
            small.push(`${name} ${whole.width}×${whole.height}`);
          if (box.height < 12) continue;
          const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
          const same =
            top !== null &&
            (control.contains(top) || top.contains(control) || top.closest("label") === control);
          // What scrolls may lie under a caution or a search field that stays in place.
          const under = top?.closest("[data-caution], [data-sticky]");
          if (!same && under === null)
            covered.push(`${name} under ${top?.tagName} ${top?.textContent?.slice(0, 30)}`);
        }
        return { width, inner: innerWidth, covered, small };
      });
      expect(found.width, `${pane}: width`).toBeLessThanOrEqual(found.inner);
      expect(found.covered, `${pane}: covered`).toEqual([]);
      expect(found.small, `${pane}: too small`).toEqual([]);
    }
    await app.shoot(page, "app-phone");
  });

  it("keeps the wing in sight above the panes", async () => {
    const page = await app.open("/", PHONE);
    await calculated(page);
    await drawn(page);
    const stage = await page.locator("[data-stage-ready]").boundingBox();
    expect(stage?.height).toBeGreaterThan(200);
    expect(await page.locator("[data-finding]").first().isVisible()).toBe(true);
  });
});
