/** The cascade as it is typed, row by row; what the caret's statement makes stands out. */
import { memo, useCallback, useEffect, useRef, useState } from "react";
import type { CascadeDiagram, Draft } from "../../../plan/draft/index.ts";
import { say } from "../../../words/index.ts";
import { lineText } from "../../model/build-diagrams.ts";
import { diagramOf, placeOfLine } from "../../model/build-highlight.ts";
import { offsetOf } from "../../model/build-statements.ts";
import { CascadeDrawing } from "../diagram/CascadeDrawing.tsx";
import styles from "./Build.module.css";
import { builder, type Drawn, useBuilder } from "./builder.ts";

const NONE: ReadonlySet<string> = new Set();

export function BuildDiagrams({ drawn, lit }: { readonly drawn: Drawn; readonly lit: ReadonlySet<string> }) {
  const { draft, diagrams, text } = drawn;
  const picked = useBuilder((state) => state.picked);
  const [hovered, setHovered] = useState<string>();
  const box = useRef<HTMLDivElement>(null);
  const named = hovered ?? picked ?? (lit.size === 1 ? [...lit][0] : undefined);
  const place = named === undefined ? undefined : placeOfLine(draft, text, named);
  const [first] = lit;
  const row = first === undefined ? undefined : diagramOf(draft, first);

  // The row that is being typed comes into sight, within the drawing's own box only.
  useEffect(() => {
    const room = box.current;
    const section = row === undefined ? null : room?.querySelector<HTMLElement>(`[data-row="${row}"]`);
    if (!room || !section) return;
    const top = section.offsetTop - room.offsetTop;
    const seen = top >= room.scrollTop && top + section.offsetHeight <= room.scrollTop + room.clientHeight;
    if (!seen) room.scrollTo({ top });
  }, [row]);

  const latest = useRef(draft);
  latest.current = draft;
  const pick = useCallback((line: string) => {
    const { text: now } = builder.getState();
    const found = placeOfLine(latest.current, now, line);
    // With a mouse the text can be typed on at once; on a touch screen its keys would hide the drawing.
    const focus = matchMedia("(pointer: fine)").matches;
    if (found === undefined) builder.getState().show(builder.getState().caret, { picked: line });
    else
      builder
        .getState()
        .show(offsetOf(now, found.line, found.character), { picked: line, focus, length: found.length });
  }, []);
  return (
    <section className={styles.drawing} aria-label={say("build.drawing")} data-took={drawn.tookMs.toFixed(1)}>
      <h2>{say("build.drawing")}</h2>
      <p className={styles.counts} data-counts>
        {diagrams.length === 0
          ? say("build.drawing.none")
          : say("build.drawing.counts", { lines: draft.lines.length, tabs: draft.tabs.length })}
      </p>
      {diagrams.length === 0 ? null : (
        <div className={styles.named} data-named={named} aria-live="polite">
          <span>{named === undefined ? say("build.drawing.hint") : lineText(draft, named)}</span>
          {place === undefined || hovered !== undefined ? null : (
            <button
              type="button"
              className={styles.small}
              onClick={() =>
                builder.getState().show(offsetOf(text, place.line, place.character), {
                  focus: true,
                  length: place.length,
                  ...(picked === undefined ? {} : { picked }),
                })
              }
            >
              {say("build.drawing.go", { line: place.line })}
            </button>
          )}
        </div>
      )}
      <div ref={box} className={styles.diagrams}>
        {diagrams.map((diagram) => (
          <RowDrawing
            key={diagram.row}
            diagram={diagram}
            draft={draft}
            picked={litIn(diagram, lit)}
            hovered={diagram.edges.some(({ line }) => line === hovered) ? hovered : undefined}
            onPick={pick}
            onHover={setHovered}
          />
        ))}
      </div>
    </section>
  );
}

/** Of the lines that stand out those in the diagram; the same empty set for all others, so that they aren't drawn anew. */
function litIn(diagram: CascadeDiagram, lit: ReadonlySet<string>): ReadonlySet<string> {
  return diagram.edges.some(({ line }) => lit.has(line)) ? lit : NONE;
}

const RowDrawing = memo(
  function RowDrawing(props: {
    readonly diagram: CascadeDiagram;
    readonly draft: Draft;
    readonly picked: ReadonlySet<string>;
    readonly hovered: string | undefined;
    readonly onPick: (line: string) => void;
    readonly onHover: (line: string | undefined) => void;
  }) {
    const { diagram, draft } = props;
    const lines = new Set(diagram.edges.map(({ line }) => line)).size;
    return (
      <section className={styles.rowDrawing} data-row={diagram.row}>
        <h3>{diagram.title}</h3>
        <div className={styles.sideways}>
          <CascadeDrawing
            diagram={diagram}
            picked={props.picked}
            hovered={props.hovered}
            onPick={props.onPick}
            onHover={props.onHover}
            label={say("build.drawing.label", { row: diagram.row, lines })}
            nameOf={(line) => lineText(draft, line)}
          />
        </div>
      </section>
    );
  },
  // What is said of its lines comes from the draft, but all of that is in the diagram too, but for ribs of single tabs.
  (before, now) =>
    before.diagram === now.diagram &&
    before.picked === now.picked &&
    before.hovered === now.hovered &&
    before.onPick === now.onPick,
);
