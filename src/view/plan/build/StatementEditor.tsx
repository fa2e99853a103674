/** The draft's text: numbered lines, those with something the matter marked, the caret's own line in sight. */
import { useEffect, useLayoutEffect, useRef } from "react";
import type { Problem } from "../../../plan/model.ts";
import { say } from "../../../words/index.ts";
import { placeAt } from "../../model/build-statements.ts";
import styles from "./Build.module.css";
import { builder, useBuilder } from "./builder.ts";

/** As in the style sheet [px]. */
const LINE_HEIGHT = 22;
const LEAST_LINES = 12;
const MOST_LINES = 26;

export function StatementEditor(props: {
  readonly marks: ReadonlyMap<number, Problem["severity"]>;
  /** Of the text that describes the line at the caret. */
  readonly describedBy: string;
}) {
  const { marks, describedBy } = props;
  const text = useBuilder((state) => state.text);
  const caret = useBuilder((state) => state.caret);
  const request = useBuilder((state) => state.caretRequest);
  const field = useRef<HTMLTextAreaElement>(null);
  const gutter = useRef<HTMLDivElement>(null);
  const count = text.split("\n").length;
  const at = placeAt(text, caret).line;

  // A place that is to be shown: set, seen, and typed on at once where that is wished.
  const answered = useRef(request.count);
  useLayoutEffect(() => {
    const element = field.current;
    if (element === null || answered.current === request.count) return;
    answered.current = request.count;
    const { caret: from } = builder.getState();
    element.setSelectionRange(from, from + request.length);
    const top = (placeAt(element.value, from).line - 1) * LINE_HEIGHT;
    if (top < element.scrollTop || top + 2 * LINE_HEIGHT > element.scrollTop + element.clientHeight)
      element.scrollTop = Math.max(0, top - element.clientHeight / 3);
    if (request.focus) {
      element.focus({ preventScroll: true });
      element.scrollIntoView({ block: "nearest" });
    }
  }, [request]);

  useEffect(() => {
    const element = field.current;
    if (element === null) return;
    const follow = (): void => {
      if (gutter.current !== null) gutter.current.style.transform = `translateY(${-element.scrollTop}px)`;
    };
    element.addEventListener("scroll", follow, { passive: true });
    return () => element.removeEventListener("scroll", follow);
  }, []);

  return (
    <div className={styles.editor}>
      <div className={styles.gutterRoom} aria-hidden="true">
        <div ref={gutter} className={styles.gutter}>
          {Array.from({ length: count }, (_, index) => {
            const mark = marks.get(index + 1);
            return (
              <div
                // biome-ignore lint/suspicious/noArrayIndexKey: lines are their numbers
                key={index}
                data-line={index + 1}
                data-at={at === index + 1 || undefined}
                data-mark={mark}
              >
                <span>{index + 1}</span>
                <b>{mark === undefined ? "" : mark === "error" ? "!" : "?"}</b>
              </div>
            );
          })}
        </div>
      </div>
      <textarea
        ref={field}
        className={styles.text}
        aria-label={say("build.text.label")}
        aria-describedby={describedBy}
        rows={Math.min(MOST_LINES, Math.max(LEAST_LINES, count + 1))}
        wrap="off"
        spellCheck={false}
        autoCapitalize="off"
        autoCorrect="off"
        value={text}
        placeholder={say("build.text.example")}
        data-draft
        onChange={(event) => builder.getState().type(event.target.value, event.target.selectionStart)}
        onSelect={(event) => {
          const element = event.currentTarget;
          if (document.activeElement === element && element.value === builder.getState().text)
            builder.getState().moveCaret(element.selectionStart);
        }}
      />
    </div>
  );
}
