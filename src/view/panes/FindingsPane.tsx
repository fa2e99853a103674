/** What was found, in words, gravest first. Opening one picks out its lines. */
import { useEffect, useRef } from "react";
import type { Analysis } from "../../diagnosis/model.ts";
import { sayTravelApart } from "../../diagnosis/wording.ts";
import { say } from "../../words/index.ts";
import { readingsTemplate } from "../model/template.ts";
import { offerFile } from "../parts/hooks.ts";
import { useApp } from "../state/app.ts";
import { useModelTravel } from "../state/travel.ts";
import { CautionLine } from "./Caution.tsx";
import limits from "./Limits.module.css";
import styles from "./Panes.module.css";

export function FindingsPane({ analysis }: { readonly analysis: Analysis }) {
  const picked = useApp(({ choices }) => choices.picked);
  const choose = useApp((state) => state.choose);
  const modelTravel = useModelTravel();
  const list = useRef<HTMLOListElement>(null);
  const pickedId = picked.kind === "finding" ? picked.id : undefined;

  // An address may open one that lies below the fold.
  useEffect(() => {
    if (pickedId === undefined) return;
    list.current
      ?.querySelector(`[data-finding="${CSS.escape(pickedId)}"]`)
      ?.scrollIntoView({ block: "nearest" });
  }, [pickedId]);

  if (analysis.check === undefined) return <Unread />;
  const openId = pickedId ?? analysis.findings[0]?.id;
  return (
    <div className={styles.pane}>
      <LookFirst />
      <ol ref={list} className={styles.findings} aria-label={say("panes.findings.list")}>
        {analysis.findings.map((finding) => {
          const isPicked = pickedId === finding.id;
          const isOpen = openId === finding.id;
          return (
            <li
              key={finding.id}
              className={styles.finding}
              data-finding={finding.id}
              data-severity={finding.severity}
              data-picked={isPicked || undefined}
            >
              <button
                type="button"
                className={styles.findingHead}
                aria-expanded={isOpen}
                aria-pressed={isPicked}
                onClick={() =>
                  choose({ picked: isPicked ? { kind: "none" } : { kind: "finding", id: finding.id } })
                }
              >
                <span className={styles.severity}>
                  {say("panes.findings.severity", { severity: finding.severity })}
                </span>
                <span className={styles.headline}>{finding.headline}</span>
              </button>
              {/* What is folded on the screen is told on paper. */}
              <div className={styles.findingBody} data-on-paper={isOpen ? undefined : true}>
                <p>{finding.detail}</p>
                {finding.kind === "brake" ? <p>{sayTravelApart("lines", modelTravel)}</p> : null}
                {isOpen && finding.lineKeys.length > 0 && !isPicked ? (
                  <button
                    type="button"
                    className={styles.textButton}
                    onClick={() => choose({ picked: { kind: "finding", id: finding.id } })}
                  >
                    {say("panes.findings.show", { count: finding.lineKeys.length })}
                  </button>
                ) : null}
              </div>
            </li>
          );
        })}
      </ol>
      {analysis.findings.length === 0 ? <p className={styles.note}>{say("panes.findings.none")}</p> : null}
      <CautionLine />
    </div>
  );
}

/** Readings that look mistaken change everything below: they come first. */
function LookFirst() {
  const mistakes = useApp((state) => state.judgement?.mistakes);
  const dismissed = useApp((state) => state.document?.judging.dismissed);
  const choose = useApp((state) => state.choose);
  const readings = (mistakes ?? [])
    .filter(({ id }) => dismissed?.includes(id) !== true)
    .reduce((sum, { concerns }) => sum + concerns.length, 0);
  if (readings === 0) return null;
  return (
    <button
      type="button"
      className={limits.first}
      data-look-first={readings}
      onClick={() => choose({ pane: "limits" })}
    >
      {say("panes.findings.mistaken", { count: readings })} <span>{say("panes.findings.look-first")}</span>
    </button>
  );
}

function Unread() {
  const wing = useApp((state) => state.document?.wing);
  const choose = useApp((state) => state.choose);
  return (
    <div className={styles.pane}>
      <div className={styles.invitation}>
        <h2>{say("panes.findings.unread")}</h2>
        <p>{say("panes.findings.unread.text")}</p>
        <button type="button" className={styles.button} onClick={() => choose({ pane: "files" })}>
          {say("panes.findings.unread.bring")}
        </button>
        {wing === undefined ? null : (
          <button
            type="button"
            className={styles.textButton}
            onClick={() => offerFile(`readings ${wing.name}.csv`, readingsTemplate(wing), "text/csv")}
          >
            {say("panes.findings.unread.sheet")}
          </button>
        )}
      </div>
      <CautionLine />
    </div>
  );
}
