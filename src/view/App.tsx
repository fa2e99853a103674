/** The page: the wing, its charts, the panes beside or below, the readout. */
import { type DragEvent, useState } from "react";
import { say } from "../words/index.ts";
import styles from "./App.module.css";
import { Head } from "./Head.tsx";
import { Help } from "./Help.tsx";
import { PaneHolder } from "./PaneHolder.tsx";
import { Strip } from "./panes/Strip.tsx";
import { useShortcuts, useUndo, useWide } from "./parts/hooks.ts";
import { PathScale } from "./parts/scale.ts";
import { Readout } from "./Readout.tsx";
import { StageFrame } from "./StageFrame.tsx";
import { app, useAnalysis, useApp } from "./state/app.ts";
import { bringFiles, usePastedTables } from "./state/bring-files.ts";
import { NOTHING, SHOWN } from "./state/choices.ts";
import { useScaleOf } from "./state/scale.ts";
import { isAnythingTried } from "./state/trials.ts";

export function App() {
  const wide = useWide();
  const analysis = useAnalysis();
  const pane = useApp(({ choices }) => choices.pane);
  const { scale } = useScaleOf("path");
  const [help, setHelp] = useState(false);
  const [over, setOver] = useState(false);

  useShortcuts((key, event) => {
    const { choose, choices, live } = app.getState();
    const shown = SHOWN[Number(key) - 1];
    const offered =
      shown === "tried"
        ? isAnythingTried(choices)
        : shown === "after"
          ? live?.after !== undefined
          : shown !== undefined && analysis?.measured !== undefined;
    if (offered && shown !== undefined) choose({ shown, against: undefined });
    else if (key === "t") document.querySelector<HTMLElement>('[data-slider="trial"]')?.focus();
    else if (key === "Escape" && choices.picked.kind !== "none") choose({ picked: NOTHING });
    else if (key === "?") setHelp(true);
    else if (key === "/") {
      event.preventDefault();
      choose({ pane: "lines" });
      requestAnimationFrame(() => document.getElementById("line-search")?.focus());
    }
  });

  useUndo(
    () => app.getState().undo(),
    () => app.getState().redo(),
  );

  usePastedTables();

  const drag = {
    onDragOver: (event: DragEvent) => {
      if (!event.dataTransfer.types.includes("Files")) return;
      event.preventDefault();
      setOver(true);
    },
    onDragLeave: (event: DragEvent) => {
      if (event.relatedTarget === null) setOver(false);
    },
    onDrop: (event: DragEvent) => {
      event.preventDefault();
      setOver(false);
      void bringFiles([...event.dataTransfer.files]);
    },
  };

  return (
    <PathScale value={scale}>
      <div className={styles.app} data-wide={wide} data-shows={pane} data-over={over || undefined} {...drag}>
        <Head onHelp={() => setHelp(true)} />
        <main className={styles.bench}>
          <StageFrame wide={wide} />
          {wide ? (
            <section className={styles.strip} aria-label={say("panes.strip", { strip: "span" })}>
              {analysis === undefined ? null : <Strip analysis={analysis} />}
            </section>
          ) : null}
          <PaneHolder wide={wide} />
          {wide ? (
            <div className={styles.readout}>
              {analysis === undefined ? null : <Readout analysis={analysis} brief={false} />}
            </div>
          ) : null}
        </main>
        {over ? <p className={styles.drop}>{say("frame.drop")}</p> : null}
        <Help open={help} onClose={() => setHelp(false)} />
      </div>
    </PathScale>
  );
}
