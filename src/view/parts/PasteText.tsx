/** A fold to paste a file's text in, where there is no file at hand. */
import { useId, useState } from "react";
import { say } from "../../words/index.ts";
import panes from "../panes/Panes.module.css";

export function PasteText(props: {
  /** What may be pasted, for those who don't see the fold around it. */
  readonly label: string;
  readonly onText: (text: string) => void;
}) {
  const [pasted, setPasted] = useState("");
  const id = useId();
  return (
    <details className={panes.paste}>
      <summary>{say("intake.paste.instead")}</summary>
      <label htmlFor={id} className="unseen">
        {props.label}
      </label>
      <textarea
        id={id}
        rows={6}
        spellCheck={false}
        value={pasted}
        placeholder={say("intake.paste.example")}
        onChange={(event) => setPasted(event.target.value)}
      />
      <button
        type="button"
        className={panes.button}
        disabled={pasted.trim() === ""}
        onClick={() => {
          props.onText(pasted);
          setPasted("");
        }}
      >
        {say("intake.paste.read")}
      </button>
    </details>
  );
}
