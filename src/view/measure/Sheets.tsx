/** What is written besides numbers, each in a dialog of its own: a note, and a name to go to. */
import { type FormEvent, type ReactNode, useEffect, useRef, useState } from "react";
import type { Target } from "../../readings/model.ts";
import { keyOfTarget, type Session, type Step, targetText } from "../../readings/session/index.ts";
import { say } from "../../words/index.ts";
import { targetsLike } from "../model/measure-told.ts";
import { measure } from "../state/measure-app.ts";
import styles from "./Sheets.module.css";

function Sheet(props: {
  readonly name: string;
  readonly title: string;
  readonly onClose: () => void;
  readonly onSubmit: () => void;
  readonly children: ReactNode;
}) {
  const { name, title, onClose, onSubmit, children } = props;
  const ref = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const dialog = ref.current;
    dialog?.showModal();
    dialog?.querySelector<HTMLElement>('input[type="text"]')?.focus();
    return () => dialog?.close();
  }, []);
  const submit = (event: FormEvent): void => {
    event.preventDefault();
    onSubmit();
  };
  return (
    <dialog ref={ref} className={styles.sheet} data-sheet={name} aria-label={title} onClose={onClose}>
      <form method="dialog" onSubmit={submit}>
        <h2>{title}</h2>
        {children}
      </form>
    </dialog>
  );
}

export function NoteSheet({ session, onClose }: { readonly session: Session; readonly onClose: () => void }) {
  const { next, last } = session.state;
  const abouts: readonly Target[] = [next?.target, last].filter((target) => target !== undefined);
  const [about, setAbout] = useState(abouts[0] === undefined ? "" : keyOfTarget(abouts[0]));
  const [text, setText] = useState("");
  const keep = (): void => {
    void measure.getState().note(
      text,
      abouts.find((target) => keyOfTarget(target) === about),
    );
    onClose();
  };
  return (
    <Sheet name="note" title={say("measure.note.title")} onClose={onClose} onSubmit={keep}>
      <label>
        {say("measure.note.about")}
        <select value={about} onChange={({ target }) => setAbout(target.value)}>
          {[...new Map(abouts.map((target) => [keyOfTarget(target), target])).values()].map((target) => (
            <option key={keyOfTarget(target)} value={keyOfTarget(target)}>
              {targetText(target)}
            </option>
          ))}
          <option value="">{say("measure.note.whole")}</option>
        </select>
      </label>
      <label>
        {say("measure.note.text")}
        <input
          type="text"
          data-input="note"
          maxLength={500}
          value={text}
          onChange={({ target }) => setText(target.value)}
        />
      </label>
      <p className={styles.ways}>
        <button type="submit" disabled={text.trim() === ""}>
          {say("measure.note.keep")}
        </button>
        <button type="button" onClick={onClose}>
          {say("measure.cancel")}
        </button>
      </p>
    </Sheet>
  );
}

const MOST_FOUND = 6;

/** @param steps all that can be gone to */
export function GoToSheet({
  steps,
  onClose,
}: {
  readonly steps: readonly Step[];
  readonly onClose: () => void;
}) {
  const [typed, setTyped] = useState("");
  const found = targetsLike(steps, typed).slice(0, MOST_FOUND);
  const go = (step: Step | undefined): void => {
    if (step === undefined) return;
    void measure.getState().goTo(step);
    onClose();
  };
  return (
    <Sheet name="go to" title={say("measure.goTo.title")} onClose={onClose} onSubmit={() => go(found[0])}>
      <label>
        {say("measure.goTo.name")}
        <input
          type="text"
          data-input="go to"
          autoComplete="off"
          autoCapitalize="off"
          spellCheck={false}
          value={typed}
          onChange={({ target }) => setTyped(target.value)}
        />
      </label>
      <p className={styles.hint}>{say("measure.goTo.hint")}</p>
      <ul className={styles.found}>
        {found.map((step, i) => (
          <li key={keyOfTarget(step.target)}>
            <button type={i === 0 ? "submit" : "button"} onClick={i === 0 ? undefined : () => go(step)}>
              {targetText(step.target)}
            </button>
          </li>
        ))}
      </ul>
      <p className={styles.ways}>
        <button type="button" onClick={onClose}>
          {say("measure.cancel")}
        </button>
      </p>
    </Sheet>
  );
}
