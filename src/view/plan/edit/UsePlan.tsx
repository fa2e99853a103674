/** The edited plan becomes the wing's, once it is sound; before, what that costs is said. */
import { useState } from "react";
import type { Wing } from "../../../plan/model.ts";
import { say } from "../../../words/index.ts";
import { offerFile } from "../../parts/hooks.ts";
import { app, shelf, useApp } from "../../state/app.ts";
import { displacedWing, homelessReadings } from "../../state/take-plan.ts";
import { isAnythingTried } from "../../state/trials.ts";
import styles from "./Edit.module.css";
import { editor, useEditor } from "./editor.ts";

export function UsePlan(props: {
  readonly wing: Wing | undefined;
  readonly errors: number;
  readonly current: boolean;
  readonly onSaid: (text: string) => void;
}) {
  const { wing, errors, current } = props;
  const document = useApp((state) => state.document);
  const tried = useApp(({ choices }) => isAnythingTried(choices));
  const changed = useEditor((state) => state.past.length > 0 && state.plan !== state.base);
  const [asked, setAsked] = useState<unknown>();
  const plan = useEditor((state) => state.plan);
  if (document === undefined) return null;

  const text = (): string => `${JSON.stringify(editor.getState().plan, null, 2)}\n`;
  const costs = (): readonly string[] => {
    if (wing === undefined) return [];
    const displaced = displacedWing(shelf, document.source);
    return [
      ...homelessReadings(document, wing).map(({ of, count, tabs, lines }) =>
        say("edit.use.homeless", {
          of,
          count,
          names: [
            ...tabs.map((id) => say("edit.use.tab", { id })),
            ...lines.map((id) => say("edit.use.line", { id })),
          ].join(", "),
        }),
      ),
      ...(displaced === undefined ? [] : [say("edit.use.displaced", { wing: displaced })]),
      ...(tried ? [say("edit.use.tried")] : []),
    ];
  };
  const take = (): void => {
    setAsked(undefined);
    editor.getState().settle();
    const taken = text();
    if (!app.getState().takePlan({ name: planName(document.files.plan.name), text: taken })) {
      props.onSaid(say("edit.unread"));
      return;
    }
    editor.getState().begin("own", taken);
    props.onSaid(say("edit.used", { wing: app.getState().document?.wing.name ?? "" }));
  };
  const why = !changed
    ? say("edit.use.same")
    : errors > 0
      ? say("edit.use.faults", { count: errors })
      : say("edit.use.means");
  const able = changed && current && wing !== undefined;
  const asking = asked === plan && able ? costs() : [];
  return (
    <section className={styles.use} data-use>
      {asking.length > 0 ? (
        <div className={styles.asks} role="alert" data-asks="use">
          <h3>{say("edit.use.asks")}</h3>
          <ul>
            {asking.map((cost) => (
              <li key={cost}>{cost}</li>
            ))}
          </ul>
          <div className={styles.buttons}>
            <button type="button" data-do="use-still" onClick={take}>
              {say("edit.use.still")}
            </button>
            <button type="button" onClick={() => setAsked(undefined)}>
              {say("edit.use.not")}
            </button>
          </div>
        </div>
      ) : null}
      <div className={styles.useRow}>
        <button
          type="button"
          className={styles.main}
          disabled={!able}
          aria-describedby="edit-use-why"
          data-do="use"
          onClick={() => {
            if (costs().length > 0) setAsked(plan);
            else take();
          }}
        >
          {say("edit.use")}
        </button>
        <p id="edit-use-why">{why}</p>
        <button
          type="button"
          className={styles.textButton}
          data-do="save"
          onClick={() => offerFile(planName(document.files.plan.name), text(), "application/json")}
        >
          {say("edit.save")}
        </button>
      </div>
    </section>
  );
}

/** The file's own name; one that isn't JSON's gets its ending. */
function planName(name: string): string {
  return /\.json$/iu.test(name) ? name : `${name.replace(/\.[^.]*$/u, "")}.plan.json`;
}
