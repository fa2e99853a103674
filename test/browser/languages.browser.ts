import { IntlMessageFormat } from "intl-messageformat";
import type { Page } from "playwright-core";
import { describe, expect, it, vi } from "vitest";
import { catalogueOf, ENGLISH, type Key } from "../../src/words/index.ts";
import { useApp } from "./harness.ts";

const DESK = { viewport: { width: 1440, height: 900 } };
const PHONE = { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true };
const PATIENCE = { timeout: 45_000 };
vi.setConfig({ testTimeout: 240_000 });

type Elements = ReturnType<IntlMessageFormat["getAst"]>;

const german = await catalogueOf("de");
const french = await catalogueOf("fr");

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&");
}

interface Said {
  readonly pattern: string;
  /** What stands in the text itself, places left out. */
  readonly fixed: string;
}

/** What a message can look like once it is said, one entry for each way through its choices. */
function saidAs(elements: Elements): readonly Said[] {
  return elements.reduce<readonly Said[]>(
    (before, element) => {
      const next: readonly Said[] =
        element.type === 0
          ? [{ pattern: escaped(element.value).replace(/\s+/g, "\\s+"), fixed: element.value }]
          : element.type === 5 || element.type === 6
            ? Object.values(element.options).flatMap(({ value }) => saidAs(value))
            : [{ pattern: element.type === 7 ? "[\\d.,]+" : ".+?", fixed: "" }];
      return before.flatMap((one) =>
        next.map((other) => ({ pattern: one.pattern + other.pattern, fixed: `${one.fixed}${other.fixed}` })),
      );
    },
    [{ pattern: "", fixed: "" }],
  );
}

/** Only those with enough words of their own that another text won't pass for them. */
function patternsOf(message: string, language: string): readonly RegExp[] {
  const elements = new IntlMessageFormat(message, language, undefined, { ignoreTag: true }).getAst();
  return saidAs(elements).flatMap(({ pattern, fixed }) =>
    /\p{L}{3}/u.test(fixed) ? [new RegExp(`^${pattern.replace(/^\\s\+|\\s\+$/g, "")}$`, "u")] : [],
  );
}

/** Words of the plan's own file, which its pane shows as they stand there. */
const OF_THE_FILE = new Set(["pulley"]);

const KEYS = Object.keys(ENGLISH) as Key[];
const inEnglish = KEYS.filter((key) => ENGLISH[key] !== german[key]).flatMap((key) =>
  patternsOf(ENGLISH[key], "en").map((pattern) => ({ key, pattern })),
);
const inGerman = KEYS.flatMap((key) => patternsOf(german[key], "de"));

/** Texts that are English messages, and no German one. */
function leftInEnglish(texts: readonly string[]): readonly string[] {
  return texts.flatMap((text) => {
    if (OF_THE_FILE.has(text)) return [];
    const found = inEnglish.find(({ pattern }) => pattern.test(text));
    return found === undefined || inGerman.some((pattern) => pattern.test(text))
      ? []
      : [`${found.key}: ${text}`];
  });
}

/** All that a page says: its texts, and what it tells those who don't see it, folds opened. */
async function textsOf(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    for (const fold of document.querySelectorAll("details")) fold.open = true;
    const found = new Set<string>();
    const note = (text: string | null) => {
      const said = text?.trim().replace(/\s+/g, " ") ?? "";
      if (/\p{L}{2}/u.test(said)) found.add(said);
    };
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) {
      const element = walker.currentNode.parentElement;
      if (element?.closest("script, style, [lang]:not(html)") === null) note(walker.currentNode.nodeValue);
    }
    for (const name of ["aria-label", "aria-valuetext", "title", "placeholder", "alt"])
      for (const element of document.querySelectorAll(`[${name}]`)) note(element.getAttribute(name));
    return [...found];
  });
}

async function calculated(page: Page): Promise<void> {
  await page.locator('[data-work="ready"][data-states="settled"]').waitFor(PATIENCE);
}

function tab(page: Page, pane: string) {
  return page.locator(`[role="tab"][data-pane="${pane}"]`);
}

describe("another language", () => {
  const app = useApp();

  it("is chosen in the head: all is said anew, and what is tried and picked stays; so it does over a reload", async () => {
    const page = await app.open("/#wing=school&pane=findings&line=left:AL2&try=-12@left:AL2", DESK);
    await calculated(page);
    expect(await page.locator("html").getAttribute("lang")).toBe("en");
    await page.locator('header [data-input="language"]').selectOption("de");
    await expect.poll(() => page.locator("html").getAttribute("lang")).toBe("de");
    const inGerman = async () => {
      await expect
        .poll(() => tab(page, "findings").textContent(), PATIENCE)
        .toBe(german["frame.pane"].match(/findings \{(\w+)\}/)?.[1]);
      // The worker's sentences follow.
      await page
        .locator("[data-finding]", { hasText: /Bremsleinen/ })
        .first()
        .waitFor(PATIENCE);
      expect(await page.locator("[data-caution]").first().textContent()).toContain(
        german["diagnosis.caution.short"],
      );
      expect(await page.locator("[data-trial]").first().getAttribute("data-trial")).toBe("-12");
      expect(await page.locator('[data-slider="trial"]').inputValue()).toBe("-12");
      expect(await page.locator("[data-readout]").getAttribute("data-readout")).toBe("left:AL2");
      expect(page.url()).toContain("try=-12@left:AL2");
    };
    await inGerman();
    await page.reload();
    await calculated(page);
    await inGerman();
  });

  it("leaves nothing in English, in no pane, in no fold, nor for those who hear the page", async () => {
    expect(leftInEnglish(["Findings", "Befunde", "3 lines", "3 Leinen", "Tidewrack 28"])).toEqual([
      expect.stringMatching(/: Findings$/),
      expect.stringMatching(/: 3 lines$/),
    ]);
    const page = await app.open(
      "/#wing=school&pane=findings&line=left:AL2&try=-12@left:AL2&shown=tried",
      DESK,
    );
    await page.locator('header [data-input="language"]').selectOption("de");
    await calculated(page);
    // The judgement comes last.
    await page.locator('[data-readout] [data-fold="line"]').waitFor(PATIENCE);
    const seen = new Set<string>();
    const found = new Map<string, string>();
    const look = async (where: string) => {
      await page.waitForTimeout(150);
      const fresh = (await textsOf(page)).filter((text) => !seen.has(text));
      for (const text of fresh) seen.add(text);
      for (const text of leftInEnglish(fresh)) found.set(text, where);
    };
    const panes = await page
      .locator('[role="tab"][data-pane]')
      .evaluateAll((tabs) => tabs.map((each) => each.getAttribute("data-pane") ?? ""));
    expect(panes.length).toBeGreaterThan(9);
    for (const pane of panes) {
      await tab(page, pane).click();
      await look(pane);
      if (pane !== "plan") continue;
      for (const part of ["edit", "build"]) {
        await page.locator(`#pane input[type="radio"][value="${part}"]`).check({ force: true });
        await look(`plan: ${part}`);
      }
    }
    for (const strip of ["pairs", "sides", "rib"]) {
      await page.locator(`[data-strip="${strip}"]`).click();
      await look(`below the stage: ${strip}`);
    }
    await page.keyboard.press("?");
    await look("help");
    expect([...found].map(([text, where]) => `${where} — ${text}`)).toEqual([]);
  });
});

describe("another unit", () => {
  const app = useApp();

  it("shows inches in the readout and on the tapes, and keeps millimetres in the address", async () => {
    const page = await app.open("/#wing=school&pane=lines&line=left:AL2&try=-12@left:AL2", DESK);
    await calculated(page);
    const readout = page.locator("[data-readout]");
    expect(await readout.textContent()).toMatch(/[+−]?\d+\s?mm/);
    await page.locator('header [data-input="unit"]').selectOption("in");
    await expect.poll(() => readout.textContent()).toMatch(/\d\.\d\d\s?in\b/);
    expect(await readout.textContent()).not.toMatch(/\d\s?mm\b/);
    expect(await page.locator("[data-trial] output").first().textContent()).toBe("−0.47 in");
    expect(await page.locator('[data-slider="trial"]').getAttribute("aria-valuetext")).toBe("−0.47 inches");
    const legend = page.getByRole("img", { name: /^Colour scale from \d\.\d\d in short/ });
    expect(await legend.locator("text").allTextContents()).toContain("0.00");
    // One step of the slider is still a millimetre.
    await page.locator('[data-slider="trial"]').press("ArrowRight");
    await expect.poll(() => page.url()).toContain("try=-11@left:AL2");
    await expect.poll(() => page.locator("[data-trial] output").first().textContent()).toBe("−0.43 in");
  });
});

describe("on a phone", () => {
  const app = useApp();

  it("language and unit are chosen in the help, and stay over a reload", async () => {
    const page = await app.open("/#wing=school&pane=rows", PHONE);
    await calculated(page);
    expect(await page.locator('header [data-input="language"]').first().isVisible()).toBe(false);
    await page.locator("header").first().getByRole("button").last().click();
    await page.locator('dialog [data-input="language"]').selectOption("fr");
    await expect.poll(() => page.locator("html").getAttribute("lang")).toBe("fr");
    await expect.poll(() => tab(page, "lines").textContent()).toBe("Suspentes");
    await page.reload();
    await calculated(page);
    expect(await page.locator("html").getAttribute("lang")).toBe("fr");
    expect(await page.locator('[data-table="rows"] caption').textContent()).toContain(
      french["units.millimetres"],
    );
    // Nothing is wider than the screen.
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  });
});
