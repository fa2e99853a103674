/** What a draft begins from. What was typed before is one step back. */
import { memo, useState } from "react";
import { PATTERNS } from "../../../plan/draft/index.ts";
import type { Problem } from "../../../plan/model.ts";
import { say } from "../../../words/index.ts";
import { withPattern } from "../../model/build-rows.ts";
import { draftFromFile, draftFromWing } from "../../model/build-start.ts";
import { textOfBytes } from "../../model/intake-files.ts";
import { useApp } from "../../state/app.ts";
import styles from "./Build.module.css";
import { builder, useBuilder } from "./builder.ts";
import { MiniCascade } from "./MiniCascade.tsx";

export const BuildStart = memo(function BuildStart({ onSaid }: { readonly onSaid: (text: string) => void }) {
  const isEmpty = useBuilder((state) => state.text.trim() === "");
  const plan = useApp((state) => state.document?.plan);
  const [open, setOpen] = useState(isEmpty);
  const [lost, setLost] = useState<readonly Problem[]>([]);
  const begin = (text: string, told: readonly Problem[] = []): void => {
    const before = builder.getState().text;
    builder.getState().write(text, `start ${Date.now()}`, 0);
    setLost(told);
    setOpen(text === "");
    onSaid(before.trim() === "" || before === text ? "" : say("build.start.began"));
  };
  const bring = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    const found = draftFromFile(textOfBytes(new Uint8Array(await file.arrayBuffer())));
    if (found === undefined) onSaid(say("build.start.unread", { name: file.name }));
    else begin(found.text, found.lost);
  };
  return (
    <>
      <details
        className={styles.fold}
        open={open}
        onToggle={(event) => setOpen(event.currentTarget.open)}
        data-fold="start"
      >
        <summary>{say("build.start")}</summary>
        <div className={styles.buttons}>
          <button type="button" data-start="empty" onClick={() => begin("")}>
            {say("build.start.empty")}
          </button>
          {plan === undefined ? null : (
            <button
              type="button"
              data-start="wing"
              onClick={() => {
                const { text, lost: told } = draftFromWing(plan);
                begin(text, told);
              }}
            >
              {say("build.start.wing", { wing: plan.name })}
            </button>
          )}
          <label className={styles.fileButton}>
            <input
              type="file"
              accept=".txt,.json,text/plain,application/json"
              data-input="draft"
              onChange={(event) => {
                void bring(event.target.files?.[0]);
                event.target.value = "";
              }}
            />
            <span>{say("build.start.file")}</span>
          </label>
        </div>
        <p className={styles.lead}>{say("build.start.patterns")}</p>
        <ul className={styles.patterns}>
          {PATTERNS.map(({ id, name, rows }) => (
            <li key={id}>
              <button
                type="button"
                data-start={id}
                onClick={() => begin(withPattern(builder.getState().text, id))}
              >
                <MiniCascade cascade={rows[0]?.cascade ?? ""} row="A" width={88} height={38} />
                <span>{say(name)}</span>
              </button>
            </li>
          ))}
        </ul>
      </details>
      {lost.length === 0 ? null : (
        <div className={styles.asks}>
          <p>{say("build.start.lost", { count: lost.length })}</p>
          <ul>
            {lost.map(({ subject, message }) => (
              <li key={`${subject} ${message}`}>{message}</li>
            ))}
          </ul>
        </div>
      )}
    </>
  );
});
