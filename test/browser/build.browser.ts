import { readFile } from "node:fs/promises";
import type { Page } from "playwright-core";
import { describe, expect, it, vi } from "vitest";
import { useApp } from "./harness.ts";

const STILL = { viewport: { width: 1440, height: 900 }, reducedMotion: "reduce" as const };
const PHONE = {
  viewport: { width: 390, height: 844 },
  isMobile: true,
  hasTouch: true,
  reducedMotion: "reduce" as const,
};
const PATIENCE = { timeout: 60_000 };
const POLL = { timeout: 30_000 };
vi.setConfig({ testTimeout: 240_000 });

const BUILD = "/#wing=school&pane=plan&plan=build";

/** Totals of an invented wing in mm, as they lie in a spreadsheet: a line a tab, a column a row. */
function printedTable(): string[][] {
  const behind = { A: 0, B: -58, C: -64, D: -12 };
  const line = (at: number): string[] => {
    const total = 7610 - 960 * (at / 11) ** 2;
    const rows = Object.values(behind).map((mm) => Math.round(total + mm).toString());
    const tip = at < 2 ? Math.round(6440 - 30 * at).toString() : "";
    const brake = Math.round(7700 - 700 * (at / 11) ** 2).toString();
    return [String(at + 1), ...rows, tip, brake];
  };
  return [["", "A", "B", "C", "D", "Tip", "Brake"], ...Array.from({ length: 12 }, (_, at) => line(at))];
}

/** As a spreadsheet puts it on the clipboard. */
async function paste(page: Page, rows: readonly (readonly string[])[]): Promise<void> {
  const text = `${rows.map((row) => row.join("\t")).join("\r\n")}\r\n`;
  await page.locator('[data-field="lengths"]').evaluate((field, copied) => {
    const clipboardData = new DataTransfer();
    clipboardData.setData("text/plain", copied);
    field.dispatchEvent(new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true }));
  }, text);
}

async function opened(page: Page): Promise<void> {
  await page.locator("[data-build]").waitFor(PATIENCE);
}

const draftOf = (page: Page): Promise<string> => page.locator("[data-draft]").inputValue();
const taking = (page: Page): Promise<number> =>
  page.locator("[data-took]").evaluate((drawing) => Number((drawing as HTMLElement).dataset.took));

/** A wing of 218 lines from a usual pattern, as far as its name, weight and straps. */
async function begun(page: Page): Promise<void> {
  await page.locator('[data-start="4 rows 12 tabs"]').click();
  for (const [field, typed] of [
    ["name", "Paper Kite"],
    ["size", "24"],
    ["weight", "80"],
    ["heaviest", "105"],
    ["straps", "490"],
    ["strap B", "490"],
    ["strap C", "485"],
    ["strap D", "480"],
  ] as const)
    await page.locator(`[data-field="${field}"]`).fill(typed);
}

describe("the builder of plans", () => {
  const app = useApp();

  it("makes a wing of 218 lines of a pattern and a pasted table, mends a slip in it and opens it in 3D", async () => {
    const page = await app.open(BUILD, STILL);
    await opened(page);
    expect(await page.locator('[data-do="open"]').isDisabled()).toBe(true);
    await app.shoot(page, "build-empty");
    await begun(page);
    expect(await draftOf(page)).toContain("A: 3x2+2\nB: 3x2+2\n");
    expect(await page.locator("[data-counts]").textContent()).toContain("109 lines and 62 tabs");
    await expect.poll(() => page.locator("[data-problems]").getAttribute("data-problems"), POLL).toBe("6");

    const rows = printedTable();
    const right = rows[5]?.[2] as string;
    const slip = rows.map((row, at) => row.map((cell, column) => (at === 5 && column === 2 ? "7z11" : cell)));
    await paste(page, slip);
    const waiting = page.locator("[data-waiting-table]");
    expect(await waiting.getAttribute("data-matched")).toBe("61");
    expect(await waiting.getAttribute("data-faults")).toBe("1");
    expect(await page.locator("[data-table-problems]").textContent()).toContain('Found "7z11"');
    await page.locator('[data-cell="5 2"]').scrollIntoViewIfNeeded();
    await app.shoot(page, "build-lengths");
    await page.locator('[data-cell="5 2"]').fill(right);
    expect(await waiting.getAttribute("data-faults")).toBe("0");
    await page.locator('[data-do="take-lengths"]').click();
    await expect.poll(() => page.locator("[data-problems]").getAttribute("data-problems"), POLL).toBe("0");
    expect(await page.locator("[data-coverage] [data-full]").count()).toBe(6);
    expect(await taking(page)).toBeGreaterThan(0);

    await page.locator('[data-fold="assumed"] > summary').click();
    expect(Number(await page.locator("[data-assumed]").getAttribute("data-assumed"))).toBeGreaterThan(5);
    await app.shoot(page, "build-full");
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.locator('[data-do="save-plan"]').click(),
    ]);
    expect(download.suggestedFilename()).toBe("paper-kite.plan.json");
    const plan = JSON.parse(await readFile((await download.path()) ?? "", "utf8"));
    expect(plan.sides.mirrored.lines).toHaveLength(109);

    await page.locator('[data-do="open"]').click();
    await expect.poll(() => page.url(), POLL).toContain("wing=own");
    await page.locator('[data-stage-ready="true"]').waitFor(PATIENCE);
    await page.locator('[data-work="ready"]').waitFor(PATIENCE);
    expect(await page.locator("h1").first().textContent()).toContain("Paper Kite");
    expect(page.url()).toContain("pane=plan");
    expect(page.url()).not.toContain("plan=build");
    await app.shoot(page, "build-opened");

    // A wing of one's own is there now: it doesn't give way unasked.
    await page.getByRole("radio", { name: "Build" }).check({ force: true });
    await opened(page);
    await page.locator('[data-field="name"]').fill("Second Kite");
    await expect.poll(() => page.locator('[data-do="open"]').isEnabled(), POLL).toBe(true);
    await page.locator('[data-do="open"]').click();
    expect(await page.locator('[data-asks="open"]').textContent()).toContain("Paper Kite");
    const [copy] = await Promise.all([
      page.waitForEvent("download"),
      page.locator('[data-do="copy"]').click(),
    ]);
    expect(copy.suggestedFilename()).toContain("Paper Kite");
    await page.locator('[data-do="open-still"]').click();
    await expect.poll(() => page.locator("h1").first().textContent(), POLL).toContain("Second Kite");
  });

  it("draws while it is typed, shows where a line was typed, and keeps what is half typed through a reload", async () => {
    const page = await app.open(BUILD, STILL);
    await opened(page);
    const text = page.locator("[data-draft]");
    await text.click();
    await page.keyboard.type("A: 2+2 3+");
    await page.locator('[data-cascade="A"]').waitFor(PATIENCE);
    expect(await page.locator('[data-cascade="A"]').getAttribute("data-lines")).toBe("11");
    expect(await page.locator('[data-mark="error"]').getAttribute("data-line")).toBe("1");
    expect(await page.locator("[data-here]").textContent()).toContain('nothing behind "+"');
    await app.shoot(page, "build-typing");
    await page.keyboard.type("2");
    await expect.poll(() => page.locator('[data-mark="error"]').count(), POLL).toBe(0);
    // The caret is at the second lower line: it and what it carries stand out.
    const lit = page.locator('[data-cascade="A"] g[data-picked]');
    expect(
      await lit.evaluateAll((lines) => lines.map((line) => line.getAttribute("data-line")).sort()),
    ).toEqual(["A5", "A6", "A7", "A8", "A9", "AL2", "AM3", "AM4"]);
    await page.locator('[data-cascade="A"] text', { hasText: "AL1" }).click();
    expect(await page.locator("[data-named]").textContent()).toContain("AL1: lower line on maillon A");
    expect(
      await text.evaluate((field) => {
        const area = field as HTMLTextAreaElement;
        return area.value.slice(area.selectionStart, area.selectionEnd);
      }),
    ).toBe("2+2");

    await page.locator('[data-unit="B 3"]').check({ force: true });
    expect(await draftOf(page)).toBe("A: 2+2 3+2\nB: 4x3\n");
    await page.keyboard.press("Control+z");
    expect(await draftOf(page)).toBe("A: 2+2 3+2");
    await page.keyboard.press("Control+Shift+Z");

    await page.reload();
    await opened(page);
    expect(await draftOf(page)).toBe("A: 2+2 3+2\nB: 4x3\n");
    expect(await page.locator("[data-cascade]").count()).toBe(2);
  });

  it("goes through the drawing by arrow keys, and through the fields by Tab", async () => {
    const page = await app.open(BUILD, STILL);
    await opened(page);
    await page.locator('[data-start="3 rows 12 tabs"]').click();
    await page.locator('[data-cascade="B"] g[data-line="BL1"]').focus();
    for (const [key, line] of [
      ["ArrowRight", "BL2"],
      ["ArrowUp", "BM3"],
      ["ArrowUp", "B5"],
      ["ArrowDown", "BM3"],
    ] as const) {
      await page.keyboard.press(key);
      expect(await page.evaluate(() => document.activeElement?.getAttribute("data-line"))).toBe(line);
    }
    await page.locator('[data-field="name"]').focus();
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.getAttribute("data-field"))).toBe("size");
    await page.locator("[data-draft]").focus();
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.hasAttribute("data-draft"))).toBe(false);
  });

  it("takes a table pasted beside the fields for lengths, not for readings", async () => {
    const page = await app.open(BUILD, STILL);
    await opened(page);
    await begun(page);
    await page.locator("[data-counts]").click();
    await page.evaluate(
      (copied) => {
        const clipboardData = new DataTransfer();
        clipboardData.setData("text/plain", copied);
        document.body.dispatchEvent(
          new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true }),
        );
      },
      printedTable()
        .map((row) => row.join("\t"))
        .join("\n"),
    );
    expect(await page.locator("[data-waiting-table]").getAttribute("data-matched")).toBe("62");
    expect(page.url()).toContain("plan=build");
    await page.reload();
    await opened(page);
    expect(await page.locator("[data-waiting-table]").getAttribute("data-matched")).toBe("62");
  });

  it("begins from the wing on the screen, and gives it again", async () => {
    const page = await app.open("/#wing=second&pane=plan&plan=build", STILL);
    await opened(page);
    await page.locator('[data-start="wing"]').click();
    await expect.poll(() => page.locator("[data-problems]").getAttribute("data-problems"), POLL).toBe("0");
    expect(await page.locator('[data-do="open"]').isEnabled()).toBe(true);
    expect(await draftOf(page)).toMatch(/^name: .+\n/u);
  });

  it("fits a phone and speaks German", async () => {
    const page = await app.open(BUILD, PHONE);
    await opened(page);
    await begun(page);
    const [, ...lines] = printedTable();
    const csv = [["Nr.", "A-Ebene", "B-Ebene", "C-Ebene", "D-Ebene", "Stabilo", "Bremse"], ...lines];
    await page.locator('[data-input="lengths"]').setInputFiles({
      name: "lengths.csv",
      mimeType: "text/csv",
      buffer: Buffer.from(csv.map((row) => row.join(";")).join("\r\n")),
    });
    expect(await page.locator("[data-waiting-table]").getAttribute("data-matched")).toBe("62");
    await page.locator('[data-do="take-lengths"]').click();
    await expect.poll(() => page.locator('[data-do="open"]').isEnabled(), POLL).toBe(true);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    const clipped = await page
      .locator("[data-build] fieldset, [data-build] section")
      .evaluateAll((found) => found.filter((each) => each.scrollWidth > each.clientWidth + 1).length);
    expect(clipped).toBe(0);
    await app.shoot(page, "build-phone");

    await page.evaluate(() => localStorage.setItem("linewright.speech", JSON.stringify({ language: "de" })));
    await page.reload();
    await opened(page);
    expect(await page.locator('[data-do="open"]').textContent()).toBe("Diesen Schirm öffnen");
    expect(await page.locator("[data-counts]").textContent()).toContain("109 Leinen");
    await page.locator("[data-draft]").fill("A: 2+");
    expect(await page.locator('[data-mark="error"]').count()).toBe(1);
    await app.shoot(page, "build-phone-de");
  });
});
