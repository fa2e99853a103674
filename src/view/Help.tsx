/** Keys and gestures, and where words come from; a dialog so that the keyboard stays inside. */
import { useEffect, useRef } from "react";
import styles from "./Help.module.css";
import { SpeechChoice } from "./parts/SpeechChoice.tsx";

const KEYS: readonly (readonly [string, string])[] = [
  ["1  2  3  4", "as specified, as measured, both, as tried"],
  ["/", "find a line"],
  ["t", "try a change of the line that is picked; then ← → by the millimetre"],
  [
    "Ctrl/Cmd Z",
    "take back what was tried or put right in the readings, last first; with Shift, do it again",
  ],
  ["Esc", "let go of what is picked, back to the view before"],
  ["← → ↑ ↓", "walk along a chart or the list of lines, once one of its points has the focus"],
  ["?", "this help"],
];

export function Help({ open, onClose }: { readonly open: boolean; readonly onClose: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    if (open && dialog.current?.open === false) dialog.current.showModal();
    if (!open) dialog.current?.close();
  }, [open]);
  return (
    <dialog ref={dialog} className={styles.help} aria-labelledby="help-title" onClose={onClose}>
      <header>
        <h2 id="help-title">Keys and gestures</h2>
        <button type="button" onClick={onClose}>
          Close
        </button>
      </header>
      <dl>
        {KEYS.map(([key, use]) => (
          <div key={key}>
            <dt>{key}</dt>
            <dd>{use}</dd>
          </div>
        ))}
      </dl>
      <p>
        On the stage: drag to turn, wheel or two fingers to come nearer, click or tap a line to pick it. What
        is picked is marked in yellow in the chart and the lists, and by rings at its ends on the stage,
        together with its twin.
      </p>
      <p>
        Deviation is measured less specified: <span className="figures">−12 mm</span> means 12 mm short.
        Colours run from rust (short) through grey (as specified) to blue (long); a line without a reading is
        pale and dashed. Shape changes are drawn larger than they are; figures never are.
      </p>
      <p>
        <SpeechChoice />
      </p>
      <p>The address in the browser’s bar holds all that you see; keep it or hand it on.</p>
    </dialog>
  );
}
