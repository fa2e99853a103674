/** The panes and the way between them; on small screens the way lies at the thumb. */
import { type KeyboardEvent, useEffect, useRef } from "react";
import { say } from "../words/index.ts";
import styles from "./PaneHolder.module.css";
import { AfterPane } from "./panes/AfterPane.tsx";
import { FilesPane } from "./panes/FilesPane.tsx";
import { FindingsPane } from "./panes/FindingsPane.tsx";
import { LimitsPane } from "./panes/LimitsPane.tsx";
import { LinesPane } from "./panes/LinesPane.tsx";
import { LoopsPane } from "./panes/LoopsPane.tsx";
import { PlanPane } from "./panes/PlanPane.tsx";
import { ReadPane } from "./panes/ReadPane.tsx";
import { ReplacePane } from "./panes/ReplacePane.tsx";
import { RowsPane } from "./panes/RowsPane.tsx";
import { SpanPane } from "./panes/SpanPane.tsx";
import { ViewPane } from "./panes/ViewPane.tsx";
import { Readout } from "./Readout.tsx";
import { useAnalysis, useApp } from "./state/app.ts";
import { PANES, type Pane } from "./state/choices.ts";

/** Beside a wide stage the charts and the stage's controls are in sight anyway; the pane for them keeps the rigging. */
const WIDE_PANES: readonly Pane[] = PANES.filter((pane) => pane !== "span");

/** What a wing is brought, entered and edited with; it works without an analysis too. */
const OWN_WAY: readonly Pane[] = ["plan", "read", "files"];

export function PaneHolder({ wide }: { readonly wide: boolean }) {
  const analysis = useAnalysis();
  const chosen = useApp(({ choices }) => choices.pane);
  const choose = useApp((state) => state.choose);
  const state = useApp(({ work }) => work.state);
  const tabs = useRef<HTMLDivElement>(null);
  const body = useRef<HTMLDivElement>(null);
  const panes = wide ? WIDE_PANES : PANES;
  const label = (name: Pane): string =>
    say("frame.pane", { pane: wide && name === "view" ? "rigging" : name });
  const pane = panes.includes(chosen) ? chosen : "findings";

  // biome-ignore lint/correctness/useExhaustiveDependencies: another pane begins at its top
  useEffect(() => {
    body.current?.scrollTo({ top: 0 });
    // On small screens the tabs scroll sideways.
    const strip = tabs.current;
    const tab = strip?.querySelector<HTMLElement>('[aria-selected="true"]');
    if (strip && tab) strip.scrollTo({ left: tab.offsetLeft - (strip.clientWidth - tab.offsetWidth) / 2 });
  }, [pane]);

  const walk = (event: KeyboardEvent): void => {
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    const next = panes[(panes.indexOf(pane) + step + panes.length) % panes.length] ?? "findings";
    choose({ pane: next });
    tabs.current?.querySelector<HTMLElement>(`[data-pane="${next}"]`)?.focus();
  };

  return (
    <section className={styles.holder} aria-label={label(pane)}>
      <div ref={tabs} className={styles.tabs} role="tablist" aria-label={say("frame.panes")}>
        {panes.map((name) => (
          <button
            key={name}
            type="button"
            role="tab"
            id={`tab-${name}`}
            data-pane={name}
            aria-selected={pane === name}
            aria-controls="pane"
            tabIndex={pane === name ? 0 : -1}
            onClick={() => choose({ pane: name })}
            onKeyDown={walk}
          >
            {label(name)}
          </button>
        ))}
      </div>
      {!wide && analysis !== undefined && !OWN_WAY.includes(pane) && pane !== "replace" ? (
        <Readout analysis={analysis} brief />
      ) : null}
      <div ref={body} className={styles.body} id="pane" role="tabpanel" aria-labelledby={`tab-${pane}`}>
        {pane === "files" ? <FilesPane /> : null}
        {pane === "plan" ? <PlanPane /> : null}
        {pane === "read" ? <ReadPane /> : null}
        {analysis === undefined ? (
          OWN_WAY.includes(pane) ? null : (
            <p className={styles.wait}>{state === "failed" ? say("frame.failed") : say("frame.wait")}</p>
          )
        ) : pane === "findings" ? (
          <FindingsPane analysis={analysis} />
        ) : pane === "limits" ? (
          <LimitsPane />
        ) : pane === "rows" ? (
          <RowsPane analysis={analysis} />
        ) : pane === "lines" ? (
          <LinesPane analysis={analysis} />
        ) : pane === "span" ? (
          <SpanPane analysis={analysis} strip={false} />
        ) : pane === "loops" ? (
          <LoopsPane />
        ) : pane === "replace" ? (
          <ReplacePane analysis={analysis} />
        ) : pane === "after" ? (
          <AfterPane analysis={analysis} />
        ) : pane === "view" ? (
          <ViewPane analysis={analysis} wide={wide} />
        ) : null}
      </div>
    </section>
  );
}
