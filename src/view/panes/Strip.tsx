/** Below a wide stage: the charts along the span, both sides against each other, or one rib from the side. */
import type { KeyboardEvent } from "react";
import type { Analysis } from "../../diagnosis/model.ts";
import { say } from "../../words/index.ts";
import { useApp } from "../state/app.ts";
import { STRIPS } from "../state/choices.ts";
import { Pairs, Sides } from "./HalfSpan.tsx";
import styles from "./Panes.module.css";
import { RibPane } from "./RibPane.tsx";
import { SpanPane } from "./SpanPane.tsx";

export function Strip({ analysis }: { readonly analysis: Analysis }) {
  const strip = useApp(({ choices }) => choices.strip);
  const choose = useApp((state) => state.choose);
  const walk = (event: KeyboardEvent): void => {
    if (event.key !== "ArrowLeft" && event.key !== "ArrowRight") return;
    event.preventDefault();
    const step = event.key === "ArrowRight" ? 1 : -1;
    const next = STRIPS[(STRIPS.indexOf(strip) + step + STRIPS.length) % STRIPS.length] ?? "span";
    choose({ strip: next });
    document.querySelector<HTMLElement>(`[data-strip="${next}"]`)?.focus();
  };
  return (
    <div className={styles.stripFrame}>
      <div className={styles.stripTabs} role="tablist" aria-label={say("panes.strip.below")}>
        {STRIPS.map((name) => (
          <button
            key={name}
            type="button"
            role="tab"
            id={`strip-${name}`}
            data-strip={name}
            aria-selected={strip === name}
            aria-controls="strip"
            tabIndex={strip === name ? 0 : -1}
            onClick={() => choose({ strip: name })}
            onKeyDown={walk}
          >
            {say("panes.strip", { strip: name })}
          </button>
        ))}
        <p className={styles.stripCaution}>{say("panes.strip.caution")}</p>
      </div>
      <div className={styles.stripBody} id="strip" role="tabpanel" aria-labelledby={`strip-${strip}`}>
        {strip === "rib" ? (
          <RibPane analysis={analysis} both />
        ) : strip === "pairs" ? (
          <Pairs strip />
        ) : strip === "sides" ? (
          <Sides strip />
        ) : (
          <SpanPane analysis={analysis} strip />
        )}
      </div>
    </div>
  );
}
