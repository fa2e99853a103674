/** A plan built from a printed table: typed in a few keystrokes, drawn while typing, opened as a wing. */
import { type KeyboardEvent, useCallback, useDeferredValue, useMemo, useState } from "react";
import { say } from "../../words/index.ts";
import { linesAt } from "../model/build-highlight.ts";
import {
  assumptionsOf,
  markedLines,
  placedProblems,
  problemsMeanwhile,
  withoutAssumed,
} from "../model/build-problems.ts";
import { placeAt, statementsIn } from "../model/build-statements.ts";
import { CautionLine } from "../panes/Caution.tsx";
import styles from "./build/Build.module.css";
import { BuildDiagrams } from "./build/BuildDiagrams.tsx";
import { BuildForm } from "./build/BuildForm.tsx";
import { BuildKey } from "./build/BuildKey.tsx";
import { BuildLengths } from "./build/BuildLengths.tsx";
import { BuildOpen } from "./build/BuildOpen.tsx";
import { BuildAssumed, BuildProblems } from "./build/BuildProblems.tsx";
import { BuildStart } from "./build/BuildStart.tsx";
import { builder, useBuilder, useDrafted, useDrawn } from "./build/builder.ts";
import { StatementEditor } from "./build/StatementEditor.tsx";

export function BuildPart() {
  const drawn = useDrawn();
  const { of, drafted, current } = useDrafted(drawn.draft);
  const caret = useBuilder((state) => state.caret);
  const picked = useBuilder((state) => state.picked);
  const canUndo = useBuilder((state) => state.past.length > 0);
  const canRedo = useBuilder((state) => state.future.length > 0);
  const kept = useBuilder((state) => state.kept);
  const [told, setTold] = useState({ said: "", of: "" });
  // What was said holds until the text is another one.
  const setSaid = useCallback((said: string) => setTold({ said, of: builder.getState().text }), []);
  const { text, draft } = drawn;
  const said = told.of === text ? told.said : "";
  const draftForLengths = useDeferredValue(draft);
  const isEmpty = text.trim() === "";

  // Mistakes in the text show at once; what is wrong with the plan as a whole a moment later.
  const problems = useMemo(() => {
    if (text.trim() === "") return [];
    return current
      ? placedProblems(draft, withoutAssumed(drafted.problems))
      : problemsMeanwhile(draft, of, drafted);
  }, [draft, text, of, drafted, current]);
  const marks = useMemo(() => markedLines(problems), [problems]);
  const assumptions = useMemo(() => assumptionsOf(of, drafted), [of, drafted]);
  const place = placeAt(text, Math.min(caret, text.length));
  const lit = useMemo(
    () =>
      picked === undefined ? linesAt(draft, text, place.line, place.character) : new Set<string>([picked]),
    [draft, text, place.line, place.character, picked],
  );
  const here = problems.find(({ line }) => line === place.line)?.problem;
  const isStatement = useMemo(
    () => statementsIn(text).some(({ line }) => line === place.line),
    [text, place.line],
  );

  /** Changes by fields and buttons are steps as well: one way back for all of them. */
  const stepKeys = (event: KeyboardEvent): void => {
    const key = event.key.toLowerCase();
    if (event.altKey || !(event.ctrlKey || event.metaKey) || (key !== "z" && key !== "y")) return;
    // The table of lengths isn't part of the draft yet; its fields have the browser's own way back.
    if (event.target instanceof Element && event.target.closest('[data-part="lengths"]') !== null) return;
    event.preventDefault();
    if (key === "y" || event.shiftKey) builder.getState().redo();
    else builder.getState().undo();
  };

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: keys pressed in the fields within
    <div className={styles.build} data-build data-current={current} onKeyDown={stepKeys}>
      <div className={styles.typed}>
        <BuildStart onSaid={setSaid} />
        <BuildForm drawn={drawn} />
        <section className={styles.part} aria-label={say("build.text")} data-part="text">
          <div className={styles.textHead}>
            <h2>{say("build.text")}</h2>
            <div className={styles.buttons}>
              <button
                type="button"
                disabled={!canUndo}
                data-do="undo"
                onClick={() => builder.getState().undo()}
              >
                {say("edit.undo")}
              </button>
              <button
                type="button"
                disabled={!canRedo}
                data-do="redo"
                onClick={() => builder.getState().redo()}
              >
                {say("edit.redo")}
              </button>
            </div>
          </div>
          <StatementEditor marks={marks} describedBy="build-here" />
          <div id="build-here" className={styles.here} aria-live="polite" data-here>
            {here !== undefined ? (
              <>
                <strong>{say("build.problem.line", { line: place.line })}</strong> {here.message}{" "}
                <span className={styles.remedy}>{here.remedy}</span>
              </>
            ) : said !== "" ? (
              said
            ) : lit.size > 0 && picked === undefined ? (
              say("build.here.makes", { line: place.line, count: lit.size })
            ) : isStatement ? (
              say("build.here.fine", { line: place.line })
            ) : null}
          </div>
          {kept ? null : <p className={styles.asks}>{say("build.notKept")}</p>}
          <BuildKey />
        </section>
      </div>
      <div className={styles.seen}>
        <BuildDiagrams drawn={drawn} lit={lit} />
        {isEmpty ? null : <BuildProblems problems={problems} />}
      </div>
      <div className={styles.more}>
        <BuildLengths draft={draftForLengths} onSaid={setSaid} />
        {isEmpty ? null : <BuildAssumed assumptions={assumptions} />}
      </div>
      <BuildOpen
        drafted={drafted}
        current={current}
        errors={problems.filter(({ problem }) => problem.severity === "error").length}
        isEmpty={isEmpty}
        onSaid={setSaid}
      />
      <CautionLine />
    </div>
  );
}
