/** Keys and gestures, and where words come from; a dialog so that the keyboard stays inside. */
import { useEffect, useRef } from "react";
import { type Key, length, say, sayParts, signedLength } from "../words/index.ts";
import styles from "./Help.module.css";
import { SpeechChoice } from "./parts/SpeechChoice.tsx";

/** Keys as they are written on every keyboard, or what they are called, and what they do. */
const KEYS: readonly { readonly keys: string; readonly called?: Key; readonly use: Key }[] = [
  { keys: "1  2  3  4", use: "frame.help.states" },
  { keys: "/", use: "frame.help.find" },
  { keys: "t", use: "frame.help.try" },
  { keys: "Z", called: "frame.help.key.undo", use: "frame.help.undo" },
  { keys: "Esc", called: "frame.help.key.let-go", use: "frame.help.let-go" },
  { keys: "← → ↑ ↓", use: "frame.help.walk" },
  { keys: "?", use: "frame.help.this" },
];

/** A line that is so much too short is the example [m]. */
const EXAMPLE_M = 0.012;

export function Help({ open, onClose }: { readonly open: boolean; readonly onClose: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    if (open && dialog.current?.open === false) dialog.current.showModal();
    if (!open) dialog.current?.close();
  }, [open]);
  return (
    <dialog ref={dialog} className={styles.help} aria-labelledby="help-title" onClose={onClose}>
      <header>
        <h2 id="help-title">{say("frame.help.title")}</h2>
        <button type="button" onClick={onClose}>
          {say("frame.close")}
        </button>
      </header>
      <dl>
        {KEYS.map(({ keys, called, use }) => (
          <div key={keys}>
            <dt>{called === undefined ? keys : say(called)}</dt>
            <dd>{say(use)}</dd>
          </div>
        ))}
      </dl>
      <p>{say("frame.help.stage")}</p>
      <p>
        {sayParts("frame.help.colours", {
          example: (
            <span key="example" className="figures">
              {signedLength(-EXAMPLE_M)}
            </span>
          ),
          size: length(EXAMPLE_M),
        })}
      </p>
      <p>
        <SpeechChoice />
      </p>
      <p>{say("frame.help.address")}</p>
    </dialog>
  );
}
