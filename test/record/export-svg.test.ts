import { afterEach, describe, expect, it } from "vitest";
import { deviationColour } from "../../src/diagnosis/colour.ts";
import { judge } from "../../src/diagnosis/judge.ts";
import type { Analysis } from "../../src/diagnosis/model.ts";
import { incidenceChart } from "../../src/record/export-svg-incidence.ts";
import { deviationChart, pairsChart } from "../../src/record/export-svg-rows.ts";
import { element, escaped, textElement, widthOf, wrapped } from "../../src/record/export-svg-text.ts";
import { catalogueOf, LANGUAGES, localeOf, speak } from "../../src/words/index.ts";
import { analysis, scale, unread, wing } from "./export-demo.ts";
import { elementsOf } from "./well-formed.ts";

const bands = judge(analysis, { draws: 400 })?.bands;
const charts = {
  deviation: (of: Analysis = analysis) => deviationChart(of, { scale }),
  pairs: (of: Analysis = analysis) => pairsChart(of),
  incidence: (of: Analysis = analysis) => incidenceChart(of, { bands }),
};
const names = Object.keys(charts) as (keyof typeof charts)[];
/** The texts that are drawn. */
const textsOf = (svg: string) =>
  [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, text = ""]) => text);
const renamed = (name: string): Analysis => ({ ...analysis, wing: { ...wing, name } });
/** Signs of points: shapes moved to their place, inside the panels. */
const pointsOf = (svg: string) =>
  [...svg.matchAll(/<path transform="translate\(([\d.-]+) ([\d.-]+)\)" d="[^"]*" fill="(#\w+)"/g)].map(
    ([, x, y, fill]) => ({ x: Number(x), y: Number(y), fill }),
  );

afterEach(() => speak());

describe.each(names)("the chart of %s as an SVG file", (name) => {
  it("is well-formed, names itself, its wing and its check, and carries the caution", () => {
    const svg = charts[name]();
    const elements = elementsOf(svg);
    expect(elements[0]).toMatchObject({ name: "svg", attributes: { xmlns: "http://www.w3.org/2000/svg" } });
    const ids = elements.flatMap(({ attributes }) => attributes.id ?? []);
    expect(new Set(ids).size).toBe(ids.length);
    for (const id of elements[0]?.attributes["aria-labelledby"]?.split(" ") ?? []) expect(ids).toContain(id);
    for (const [, used] of svg.matchAll(/url\(#([^)]+)\)/g)) expect(ids).toContain(used);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    const texts = textsOf(svg).join(" ");
    expect(texts).toContain("Tidewrack 28, check of 14 March 2026");
    expect(texts).toContain("not a clearance to fly");
  });

  it.each(['A<B> & "C"', "</svg><script>alert(1)</script>", "a\u0000b\ud800c", "]]>", "'; DROP"])(
    "takes a wing called %j",
    (called) => {
      const elements = elementsOf(charts[name](renamed(called)));
      expect(elements.filter((each) => each.name === "script")).toEqual([]);
    },
  );

  it.each(LANGUAGES)("speaks %s and keeps its caution within the picture", async (language) => {
    speak({ language, locale: localeOf(language), catalogue: await catalogueOf(language) });
    const svg = charts[name]();
    elementsOf(svg);
    const title = { en: /along|Left/, de: /über die|Links/, fr: /envergure|Gauche/ }[language];
    expect(textsOf(svg)[0]).toMatch(title);
    const cautions = [...svg.matchAll(/<text [^>]*font-size="14" font-weight="700">([^<]*)</g)];
    expect(cautions.length).toBeGreaterThan(0);
    for (const [, line = ""] of cautions) expect(widthOf(line, 14)).toBeLessThanOrEqual(1152);
  });

  it("says so where nothing was read", () => {
    const svg = charts[name](unread);
    elementsOf(svg);
    expect(textsOf(svg).join(" ")).toContain("Nothing was read");
  });
});

describe("the chart of deviations", () => {
  const svg = charts.deviation();

  it("has a point for every path read, coloured by the scale", () => {
    const read = analysis.deviations.paths.filter(({ deviationM }) => deviationM !== undefined);
    const points = pointsOf(svg);
    expect(points).toHaveLength(read.length);
    expect(points.map(({ fill }) => fill).sort()).toEqual(
      read.map(({ deviationM }) => deviationColour(deviationM, scale).hex).sort(),
    );
  });

  it("has the left on the left, and short below the line", () => {
    const short: Analysis = {
      ...analysis,
      deviations: {
        ...analysis.deviations,
        paths: analysis.deviations.paths.map((path) => ({
          ...path,
          deviationM: path.row !== "A" ? undefined : path.side === "left" ? -0.02 : 0.02,
        })),
      },
    };
    const points = pointsOf(deviationChart(short, { scale }));
    const [left, right] = [points.filter(({ x }) => x < 620), points.filter(({ x }) => x > 620)];
    expect(left.length).toBe(right.length);
    expect(Math.min(...left.map(({ y }) => y))).toBeGreaterThan(Math.max(...right.map(({ y }) => y)));
  });

  it("tells rows by shape: a legend with as many shapes as rows", () => {
    const legend = [...svg.matchAll(/<g transform="translate\([^)]*\)">.*?<\/g>/g)].map(([entry]) => entry);
    const shapes = legend.flatMap((entry) => /<path d="([^"]*)" fill="#1f2724"\/>/.exec(entry)?.[1] ?? []);
    expect(shapes).toHaveLength(6);
    expect(new Set(shapes).size).toBe(6);
    for (const row of ["A", "B", "C", "D", "Tip", "Brake", "Tolerance ±10 mm"])
      expect(textsOf(svg)).toContain(row);
  });

  it("has inches where they are set", () => {
    speak({ unit: "in" });
    const texts = textsOf(charts.deviation());
    expect(texts).toContain("Deviation, in; below the line is short");
    expect(texts).toContain("Tolerance ±0.39 in");
    expect(texts).toContain("−1.0");
  });
});

describe("the chart of pairs", () => {
  it("has a point for every pair of which both were read, longer on the left above the line", () => {
    const deviation = new Map(analysis.deviations.paths.map((path) => [path.tabKey, path.deviationM]));
    const pairs = wing.tabs.filter(
      ({ key, side, mirrorKey }) =>
        side === "left" && deviation.get(key) !== undefined && deviation.get(mirrorKey ?? "") !== undefined,
    );
    expect(pointsOf(charts.pairs())).toHaveLength(pairs.length);
    const longLeft: Analysis = {
      ...analysis,
      deviations: {
        ...analysis.deviations,
        paths: analysis.deviations.paths.map((path) => ({
          ...path,
          deviationM: path.side === "left" ? 0.01 : 0,
        })),
      },
    };
    const svg = pairsChart(longLeft);
    const zero = Number(/<path d="M[\d.]+ ([\d.]+)H[\d.]+" stroke="#1f2724"/.exec(svg)?.[1]);
    expect(zero).toBeGreaterThan(0);
    expect(Math.max(...pointsOf(svg).map(({ y }) => y))).toBeLessThan(zero);
  });
});

describe("the chart of the incidence", () => {
  it("has a stem for every rib, and bands only where the readings were judged", () => {
    const circles = (svg: string) => [...svg.matchAll(/<circle /g)].length;
    expect(circles(charts.incidence())).toBe(analysis.ribs.length);
    expect(charts.incidence()).toContain("95 %, readings and assumptions");
    const early = incidenceChart(analysis);
    expect(circles(early)).toBe(analysis.ribs.length);
    expect(early).not.toContain("95 %");
  });
});

describe("markup", () => {
  it("escapes what XML reserves and leaves out what it has no place for", () => {
    expect(escaped(`<a b="c">&'`)).toBe("&lt;a b=&quot;c&quot;&gt;&amp;&#39;");
    expect(escaped("a\u0000\u000b\ufffe\ud83db\ude00")).toBe("ab");
    expect(escaped("😀 \t\n")).toBe("😀 \t\n");
    expect(element("a", { b: '"', c: undefined, d: 0.123_456 })).toBe('<a b="&quot;" d="0.12"/>');
    expect(textElement("a", {}, "<")).toBe("<a>&lt;</a>");
  });

  it("breaks a text between its words only", () => {
    const text = "one two three four five six";
    const lines = wrapped(text, 60, 10);
    expect(lines.join(" ")).toBe(text);
    expect(lines.length).toBeGreaterThan(2);
    for (const one of lines) expect(widthOf(one, 10)).toBeLessThanOrEqual(60);
    expect(wrapped("unbreakable", 10, 10)).toEqual(["unbreakable"]);
  });

  it.each(["<a>", "<a></b>", "<a/><b/>", "<a>&</a>", '<a b="&"/>', '<a b="1" b="2"/>', "<a b=1/>"])(
    "would be found at fault: %s",
    (broken) => {
      expect(() => elementsOf(broken)).toThrow();
    },
  );
});
