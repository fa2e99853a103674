/** What every exported chart has in common: title, what it is of, a legend, panels on one axis across, and the caution. */
import { type ScaleLinear, scaleLinear } from "d3-scale";
import { cautionShort } from "../diagnosis/caution.ts";
import { GROUND_HEX } from "../diagnosis/colour.ts";
import type { Analysis } from "../diagnosis/model.ts";
import { trimmed } from "../diagnosis/wording.ts";
import { longDate, say, signedFixed } from "../words/index.ts";
import { element, textElement, widthOf, wrapped } from "./export-svg-text.ts";

export const INK = "#1f2724";
export const SOFT = "#51615c";
export const HAIR = "#c9d1cd";
const PAPER = "#ffffff";
/** No font comes with the file: whatever the reader has. */
const FONT = "sans-serif";
const SIZE = { title: 20, text: 14 } as const;
const LINE = 19;
/** Margins [px]; on the left the figures of the axis stand. */
const LEFT = 70;
const RIGHT = 24;
const EDGE = 24;
/** Between a panel's sides and the ends of its axis, so that no sign at a tip is cut. */
const INSET = 12;
/** Above a panel, for its axis' name; below it, for what stands across. */
const PANEL_TITLE = 30;
const PANEL_FOOT = 24;

export interface ChartSize {
  /** [px]; 1200 and 640 where left out. */
  readonly widthPx?: number;
  readonly heightPx?: number;
}

export interface LegendEntry {
  /** Markup of a sign within 28 by 14 px around 0, 0. */
  readonly sign: string;
  readonly text: string;
}

/** One panel: its axis up in the unit that is shown, and what is drawn on it. */
export interface Panel {
  /** Name of the axis, with its unit. */
  readonly title: string;
  /** Lowest and highest, in the unit shown. */
  readonly domain: readonly [number, number];
  /** How much of the height it gets, over the others' shares. */
  readonly share: number;
  /** Filled between these, behind everything [unit shown]. */
  readonly tolerance?: number | undefined;
  readonly draw: (x: ScaleLinear<number, number>, y: ScaleLinear<number, number>) => readonly string[];
}

export interface ChartParts {
  /** Begins the names in the file, so that several charts can stand in one page. */
  readonly id: string;
  readonly title: string;
  readonly analysis: Analysis;
  readonly legend: readonly LegendEntry[];
  readonly panels: readonly Panel[];
  /** Ends of the axis across, and what is written at places on it. */
  readonly across: {
    readonly domain: readonly [number, number];
    readonly marks: readonly (readonly [number, string])[];
  };
  readonly defs?: readonly string[];
}

/** A whole SVG file, in UTF-8 as XML is where it says nothing else. Where there is no panel it says that nothing was read. */
export function chartFile(parts: ChartParts, { widthPx = 1200, heightPx = 640 }: ChartSize = {}): string {
  const { id, analysis, panels } = parts;
  const [left, right] = [LEFT, widthPx - RIGHT];
  const caution = wrapped(cautionShort(), widthPx - 2 * EDGE, SIZE.text);
  const cautionTop = heightPx - EDGE - (caution.length - 1) * LINE;
  const legend = laidOut(parts.legend, EDGE + 2 * LINE + 18, widthPx - EDGE);
  const of = aboutLine(analysis);
  const top = legend.bottom + 10;
  const room = cautionTop - 26 - top - panels.length * (PANEL_TITLE + PANEL_FOOT);
  const shares = panels.reduce((sum, { share }) => sum + share, 0);
  const x = scaleLinear()
    .domain([...parts.across.domain])
    .range([left + INSET, right - INSET]);

  let at = top;
  const drawn = panels.flatMap((panel, place) => {
    const height = Math.max(40, (room * panel.share) / shares);
    const from = at + PANEL_TITLE;
    at = from + height + PANEL_FOOT;
    const y = scaleLinear()
      .domain([...panel.domain])
      .range([from + height, from]);
    return panelMarkup(panel, { x, y, clip: `${id}-panel-${place}`, marks: parts.across.marks });
  });
  const nothing = textElement(
    "text",
    { x: EDGE, y: top + 40, fill: INK, "font-size": SIZE.text },
    say("export.chart.nothing"),
  );

  const file = element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      width: widthPx,
      height: heightPx,
      viewBox: `0 0 ${widthPx} ${heightPx}`,
      role: "img",
      "aria-labelledby": `${id}-title ${id}-caution`,
      "font-family": FONT,
    },
    [
      textElement("title", { id: `${id}-title` }, `${parts.title}: ${of}`),
      textElement("desc", { id: `${id}-caution` }, cautionShort()),
      ...(parts.defs === undefined ? [] : [element("defs", {}, parts.defs)]),
      element("rect", { width: widthPx, height: heightPx, fill: PAPER }),
      textElement(
        "text",
        { x: EDGE, y: EDGE + 14, fill: INK, "font-size": SIZE.title, "font-weight": 700 },
        parts.title,
      ),
      textElement("text", { x: EDGE, y: EDGE + 14 + LINE + 3, fill: SOFT, "font-size": SIZE.text }, of),
      ...legend.markup,
      ...(panels.length === 0 ? [nothing] : drawn),
      ...caution.map((line, row) =>
        textElement(
          "text",
          { x: EDGE, y: cautionTop + row * LINE, fill: INK, "font-size": SIZE.text, "font-weight": 700 },
          line,
        ),
      ),
    ],
  );
  return `${file}\n`;
}

/** Wing, day, datum and tension; the wing alone where nothing was read. */
function aboutLine({ wing, check }: Analysis): string {
  return check === undefined
    ? wing.name
    : say("export.chart.of", {
        wing: wing.name,
        date: longDate(check.date),
        from: check.from,
        tension: trimmed(check.tensionN, 1),
      });
}

/** Entries one after the other, on the next line where the width is used up. */
function laidOut(entries: readonly LegendEntry[], top: number, right: number) {
  let x = EDGE;
  let y = top;
  const markup = entries.map(({ sign, text }) => {
    const wanted = 36 + widthOf(text, SIZE.text) + 18;
    if (x > EDGE && x + wanted > right) {
      x = EDGE;
      y += LINE + 3;
    }
    const entry = element("g", { transform: `translate(${x + 14} ${y})` }, [
      sign,
      textElement("text", { x: 20, y: 5, fill: INK, "font-size": SIZE.text }, text),
    ]);
    x += wanted;
    return entry;
  });
  return { markup, bottom: y };
}

interface PanelPlace {
  readonly x: ScaleLinear<number, number>;
  readonly y: ScaleLinear<number, number>;
  readonly clip: string;
  readonly marks: ChartParts["across"]["marks"];
}

function panelMarkup(panel: Panel, { x, y, clip, marks }: PanelPlace): string[] {
  const [first, last] = x.range() as [number, number];
  const [left, right] = [first - INSET, last + INSET];
  const [bottom, top] = y.range() as [number, number];
  const box = { x: left, y: top, width: right - left, height: bottom - top };
  const ticks = y.ticks(Math.max(2, Math.floor((bottom - top) / 40)));
  const step = Math.abs((ticks[1] ?? 1) - (ticks[0] ?? 0));
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const { tolerance } = panel;
  return [
    textElement("text", { x: EDGE, y: top - 10, fill: SOFT, "font-size": SIZE.text }, panel.title),
    element("clipPath", { id: clip }, [element("rect", { ...box, y: top - 8, height: box.height + 16 })]),
    element("rect", { ...box, fill: GROUND_HEX }),
    ...(tolerance === undefined
      ? []
      : [
          element("rect", {
            ...box,
            y: y(tolerance),
            height: y(-tolerance) - y(tolerance),
            fill: HAIR,
            "fill-opacity": 0.55,
          }),
        ]),
    ...ticks.flatMap((tick) => [
      element("path", {
        d: `M${left} ${y(tick).toFixed(2)}H${right}`,
        stroke: tick === 0 ? INK : HAIR,
        "stroke-width": tick === 0 ? 1.2 : 0.8,
      }),
      textElement(
        "text",
        { x: left - 8, y: y(tick) + 5, "text-anchor": "end", fill: INK, "font-size": SIZE.text },
        signedFixed(tick, decimals),
      ),
    ]),
    element("g", { "clip-path": `url(#${clip})` }, panel.draw(x, y)),
    ...marks.map(([place, text]) =>
      textElement(
        "text",
        {
          x: x(place),
          y: bottom + 18,
          "text-anchor": anchorAt(place, x),
          fill: SOFT,
          "font-size": SIZE.text,
        },
        text,
      ),
    ),
  ];
}

function anchorAt(place: number, x: ScaleLinear<number, number>): string {
  const [low, high] = x.domain() as [number, number];
  return place === low ? "start" : place === high ? "end" : "middle";
}
