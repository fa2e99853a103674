/** The plan's cascade, row by row, flat: linked with the 3D, and to be printed. */
import { Fragment, useEffect, useMemo, useRef, useState } from "react";
import { cautionShort } from "../../diagnosis/caution.ts";
import { deviationColour } from "../../diagnosis/colour.ts";
import { cascadeDiagram } from "../../plan/draft/index.ts";
import type { Row, Side, Wing } from "../../plan/model.ts";
import { decimalMark, type Key, length, say, signedLength } from "../../words/index.ts";
import {
  deviationsOf,
  drawnRows,
  FIGURES,
  type Figures,
  materialDashes,
  STROKES,
  type Strokes,
  sidesAlike,
  withFigures,
} from "../model/cascade-drawing.ts";
import { CautionLine } from "../panes/Caution.tsx";
import { OneOf } from "../parts/Choice.tsx";
import { pickLine, useAnalysis, useApp, useColouredAnalysis, usePickedLines } from "../state/app.ts";
import { useScaleOf } from "../state/scale.ts";
import styles from "./cascade/Cascade.module.css";
import { Legend } from "./cascade/Legend.tsx";
import { SheetHead } from "./cascade/SheetHead.tsx";
import { CascadeDrawing } from "./diagram/CascadeDrawing.tsx";

const ZOOMS = ["fit", "1", "1.5", "2"] as const;
type Zoom = (typeof ZOOMS)[number];
/** Dashes of a line that wasn't measured; those of materials are others. */
const UNREAD_DASH = "4 4";
const ROWS_A_SHEET = 2;
/** Two rows a sheet, and the app's own head left out: each sheet says what it is of. */
const PAPER =
  "@page{size:A4 landscape;margin:9mm 11mm}[data-wide]>header,[data-wide] fieldset,[data-wide] [role=tablist]{display:none}";

/** A line's name on the side that is drawn; a drawing of both sides answers for either. */
function nameOn(key: string, side: Side | "both"): string | undefined {
  const [own, id] = /^(\w+):(.*)$/u.exec(key)?.slice(1) ?? [];
  return side !== "both" && own !== side ? undefined : id;
}

/** Height of the caution that lies over the end of the pane [px]. */
const COVERED = 76;

/** What is in sight stays where it is: it may just have been clicked on. */
function bringInSight(element: Element | undefined): void {
  const pane = element?.closest("#pane")?.getBoundingClientRect();
  if (element === undefined || pane === undefined) return;
  const { top, bottom, left, right } = element.getBoundingClientRect();
  const inSight =
    top >= pane.top && bottom <= pane.bottom - COVERED && left >= pane.left && right <= pane.right;
  if (!inSight) element.scrollIntoView({ block: "center", inline: "center" });
}

export function CascadePart() {
  const wing = useApp((state) => state.document?.wing);
  if (wing === undefined) return <p className={styles.note}>{say("cascade.noPlan")}</p>;
  return <Cascade wing={wing} />;
}

function Cascade({ wing }: { readonly wing: Wing }) {
  const analysis = useAnalysis();
  const coloured = useColouredAnalysis();
  const colouredBy = useApp(({ choices }) => choices.colouredBy);
  const { scale, of } = useScaleOf(colouredBy);
  const pickedKeys = usePickedLines();
  const hovered = useApp((state) => state.hovered);
  const hover = useApp((state) => state.hover);
  const [strokes, setStrokes] = useState<Strokes>("deviation");
  const [figures, setFigures] = useState<Figures>("length");
  const [only, setOnly] = useState<Row | "all">("all");
  const [asked, setSide] = useState<Side>("left");
  const [zoom, setZoom] = useState<Zoom>("1");
  const drawings = useRef<HTMLDivElement>(null);

  const read = coloured?.lines.some(({ deviationM }) => deviationM !== undefined) ?? false;
  const alike = useMemo(() => sidesAlike(wing), [wing]);
  const sided = !alike || (read && (strokes === "deviation" || figures === "deviation"));
  const [picked] = pickedKeys.size === 1 ? pickedKeys : [];
  const side: Side = sided ? asked : "left";
  const shownSide = sided ? side : "both";

  const rows = useMemo(() => drawnRows(wing), [wing]);
  const shown = only === "all" || !rows.includes(only) ? rows : [only];
  const dashes = useMemo(() => materialDashes(wing), [wing]);
  const lines = useMemo(() => new Map(wing.lines.map((line) => [line.key, line])), [wing]);
  const deviations = useMemo(
    () => deviationsOf(coloured?.lines ?? [], analysis?.deviations.paths ?? [], side),
    [coloured, analysis, side],
  );
  const diagrams = useMemo(
    () =>
      new Map(
        rows.map((row) => [
          row,
          withFigures(cascadeDiagram(wing, row, side), wing, side, figures, deviations),
        ]),
      ),
    [wing, rows, side, figures, deviations],
  );

  const pickedNames = useMemo(
    () => new Set([...pickedKeys].flatMap((key) => nameOn(key, shownSide) ?? [])),
    [pickedKeys, shownSide],
  );
  const hoveredName = hovered === undefined ? undefined : nameOn(hovered, shownSide);
  const act = useMemo(
    () => ({
      pick: (name: string) => pickLine(`${side}:${name}`),
      hover: (name: string | undefined) => hover(name === undefined ? undefined : `${side}:${name}`),
      colour: (name: string) =>
        strokes === "deviation" && read ? deviationColour(deviations.ofLine.get(name), scale).hex : undefined,
      dash: (name: string) => {
        if (strokes === "material") return dashes.get(lines.get(`${side}:${name}`)?.materialId ?? "");
        return strokes === "deviation" && read && deviations.ofLine.get(name) === undefined
          ? UNREAD_DASH
          : undefined;
      },
      name: (name: string) => {
        const line = lines.get(`${side}:${name}`);
        const deviationM = deviations.ofLine.get(name);
        return say("cascade.line", {
          id: name,
          length: line === undefined ? "" : length(line.lengthM),
          material: line?.materialId ?? "",
          deviation: deviationM === undefined ? say("cascade.line.unread") : signedLength(deviationM),
        });
      },
    }),
    [side, hover, strokes, read, deviations, scale, dashes, lines],
  );

  // A line picked elsewhere is shown: on its own side, and in sight.
  useEffect(() => {
    if (picked === undefined) return;
    const own: Side = picked.startsWith("right:") ? "right" : "left";
    setSide(own);
    setOnly((now) => (now === "all" ? now : "all"));
    const name = CSS.escape(picked.replace(/^\w+:/u, ""));
    const frame = requestAnimationFrame(() =>
      bringInSight(drawings.current?.querySelector(`g[data-line="${name}"]`) ?? undefined),
    );
    return () => cancelAnimationFrame(frame);
  }, [picked]);

  const sheets: Row[][] = [];
  for (let at = 0; at < shown.length; at += ROWS_A_SHEET) sheets.push(shown.slice(at, at + ROWS_A_SHEET));

  return (
    <div className={styles.cascade} data-cascade-part data-side={shownSide}>
      <style media="print">{PAPER}</style>
      <div className={styles.controls}>
        <OneOf
          legend={say("cascade.rows")}
          options={(["all", ...rows] as const).map((value) => ({
            value,
            label: value === "all" ? say("cascade.rows.all") : say("cascade.row.short", { row: value }),
          }))}
          value={only}
          onChange={setOnly}
        />
        {sided ? (
          <OneOf
            legend={say("cascade.side")}
            options={[
              { value: "left" as const, label: say("cascade.side.left") },
              { value: "right" as const, label: say("cascade.side.right") },
            ]}
            value={side}
            onChange={setSide}
          />
        ) : (
          <span className={styles.both}>{say("cascade.side.both")}</span>
        )}
        <OneOf
          legend={say("cascade.lines")}
          options={STROKES.map((value) => ({ value, label: say(STROKE_LABEL[value]) }))}
          value={strokes}
          onChange={setStrokes}
        />
        <OneOf
          legend={say("cascade.figures")}
          options={FIGURES.map((value) => ({ value, label: say(FIGURE_LABEL[value]) }))}
          value={figures}
          onChange={setFigures}
          disabled={(value) => value === "deviation" && !read}
        />
        <OneOf
          legend={say("cascade.zoom")}
          options={ZOOMS.map((value) => ({
            value,
            label:
              value === "fit"
                ? say("cascade.zoom.fit")
                : say("cascade.zoom.times", { times: value.replace(".", decimalMark()) }),
          }))}
          value={zoom}
          onChange={setZoom}
        />
        <button type="button" className={styles.print} onClick={() => window.print()}>
          {say("cascade.print")}
        </button>
      </div>
      <div className={styles.screenLegend}>
        <Legend
          strokes={strokes}
          figures={figures}
          read={read}
          wing={wing}
          dashes={dashes}
          of={of}
          scale={scale}
        />
      </div>
      <div
        ref={drawings}
        className={styles.sheets}
        data-zoom={zoom}
        style={{ "--zoom": zoom === "fit" ? 1 : zoom } as React.CSSProperties}
      >
        {sheets.map((sheet) => (
          <section key={sheet.join()} className={styles.sheet}>
            <SheetHead wing={wing} side={shownSide} rows={sheet} />
            {sheet.map((row) => {
              const diagram = diagrams.get(row);
              if (diagram === undefined) return null;
              const title = say("cascade.row", { row });
              return (
                <Fragment key={row}>
                  <h2>{title}</h2>
                  <div className={styles.room} data-row={row}>
                    <CascadeDrawing
                      diagram={diagram}
                      picked={pickedNames}
                      hovered={hoveredName}
                      onPick={act.pick}
                      onHover={act.hover}
                      colourOf={act.colour}
                      dashOf={act.dash}
                      nameOf={act.name}
                      label={say("cascade.drawing", {
                        title,
                        side: shownSide,
                        lines: new Set(diagram.edges.map(({ line }) => line)).size,
                        tabs: diagram.nodes.filter(({ kind }) => kind === "tab").length,
                      })}
                    />
                  </div>
                </Fragment>
              );
            })}
            <div className={styles.paperFoot}>
              <Legend
                strokes={strokes}
                figures={figures}
                read={read}
                wing={wing}
                dashes={dashes}
                of={of}
                scale={scale}
              />
              <p className={styles.paperCaution} data-paper-caution>
                {cautionShort()}
              </p>
            </div>
          </section>
        ))}
      </div>
      <div className={styles.caution}>
        <CautionLine />
      </div>
    </div>
  );
}

const STROKE_LABEL: Readonly<Record<Strokes, Key>> = {
  deviation: "cascade.lines.deviation",
  material: "cascade.lines.material",
  plain: "cascade.lines.plain",
};
const FIGURE_LABEL: Readonly<Record<Figures, Key>> = {
  none: "cascade.figures.none",
  length: "cascade.figures.length",
  total: "cascade.figures.total",
  deviation: "cascade.figures.deviation",
};
