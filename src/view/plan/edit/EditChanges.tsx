/** What changed since the last version, each to be taken back. */
import { useMemo, useState } from "react";
import { editChanges } from "../../../plan/edit-diff.ts";
import { inverted } from "../../../plan/edit-steps.ts";
import { say } from "../../../words/index.ts";
import { changeText } from "../../model/edit-changes.ts";
import styles from "./Edit.module.css";
import { editor, useEditor } from "./editor.ts";

const AT_FIRST = 12;

export function EditChanges() {
  const base = useEditor((state) => state.base);
  const plan = useEditor((state) => state.plan);
  const past = useEditor((state) => state.past);
  const [all, setAll] = useState(false);
  const changes = useMemo(() => editChanges(base, plan, past.flat()), [base, plan, past]);
  const shown = all ? changes : changes.slice(0, AT_FIRST);
  return (
    <section className={styles.part} data-changes={changes.length}>
      <h2>{say("edit.changes.title", { count: changes.length })}</h2>
      {changes.length === 0 ? null : (
        <>
          <table className={styles.changes}>
            <thead>
              <tr>
                <th scope="col">{say("edit.changes.of")}</th>
                <th scope="col">{say("edit.changes.field")}</th>
                <th scope="col">{say("edit.changes.was")}</th>
                <th scope="col">{say("edit.changes.is")}</th>
                <td />
              </tr>
            </thead>
            <tbody>
              {shown.map((change) => {
                const { who, what, was, is, by } = changeText(change);
                return (
                  <tr
                    key={`${change.list} ${change.half} ${change.id} ${change.kind} ${change.field.join(".")}`}
                    data-change={`${change.id} ${change.field.join(".")}`.trim()}
                  >
                    <th scope="row">{who}</th>
                    <td>{what}</td>
                    <td>{was}</td>
                    <td>
                      {is}
                      {by === undefined ? null : <small> {by}</small>}
                    </td>
                    <td>
                      <button
                        type="button"
                        aria-label={say("edit.changes.backOf", { who, what })}
                        onClick={() => editor.getState().step(change.back)}
                      >
                        {say("edit.changes.back")}
                      </button>
                    </td>
                  </tr>
                );
              })}
            </tbody>
          </table>
          <div className={styles.buttons}>
            {changes.length > shown.length ? (
              <button type="button" onClick={() => setAll(true)}>
                {say("edit.changes.more", { count: changes.length - shown.length })}
              </button>
            ) : null}
            <button
              type="button"
              data-do="all-back"
              onClick={() => editor.getState().step(inverted(past.flat()))}
            >
              {say("edit.changes.allBack")}
            </button>
          </div>
        </>
      )}
    </section>
  );
}
