/** The end of building: the wing is opened, the plan or the draft saved; what gives way for it is said before. */
import { useState } from "react";
import type { DraftedPlan } from "../../../plan/draft/index.ts";
import { say } from "../../../words/index.ts";
import { fileNameOf } from "../../model/build-start.ts";
import { offerFile } from "../../parts/hooks.ts";
import { app, shelf } from "../../state/app.ts";
import { keptOwn } from "../../state/keep.ts";
import { displacedWing } from "../../state/take-plan.ts";
import styles from "./Build.module.css";
import { builder } from "./builder.ts";

export function BuildOpen(props: {
  readonly drafted: DraftedPlan;
  readonly current: boolean;
  readonly errors: number;
  readonly isEmpty: boolean;
  readonly onSaid: (text: string) => void;
}) {
  const { drafted, current, errors, isEmpty, onSaid } = props;
  const { plan } = drafted;
  const [asked, setAsked] = useState<unknown>();
  const able = plan !== undefined && current;
  const displaced = asked !== undefined && asked === plan ? displacedWing(shelf, "school") : undefined;
  const own = displaced === undefined ? undefined : keptOwn(shelf);
  const belongings = [own?.readings, own?.after, own?.book].flatMap((file) => file ?? []);

  const open = (): void => {
    if (plan === undefined) return;
    setAsked(undefined);
    const { name } = plan.wing;
    app.getState().bring([{ name: `plan ${name}.json`, text: planText(plan) }]);
    const { choices, receipts, choose } = app.getState();
    // Brought files show the files pane; a plan that was taken is looked at in its own, beside the wing.
    if (choices.wing === "own" && receipts.every(({ outcome }) => outcome !== "not taken"))
      choose({ pane: "plan", planPart: "cascade" });
    else onSaid(say("build.open.unread"));
  };
  const why = isEmpty
    ? say("build.open.empty")
    : errors > 0
      ? say("build.open.faults", { count: errors })
      : say("build.open.means");
  return (
    <section className={styles.open} data-open>
      {displaced === undefined ? null : (
        <div className={styles.asks} role="alert" data-asks="open">
          <h3>{say("build.open.asks", { wing: displaced })}</h3>
          <p>{say("build.open.loses", { wing: displaced, count: belongings.length })}</p>
          <div className={styles.buttons}>
            <button
              type="button"
              data-do="copy"
              onClick={() => {
                for (const { name, text } of own === undefined ? [] : [own.plan, ...belongings])
                  offerFile(name, text, /\.json$/iu.test(name) ? "application/json" : "text/plain");
              }}
            >
              {say("build.open.copy")}
            </button>
            <button type="button" data-do="open-still" onClick={open}>
              {say("build.open.still")}
            </button>
            <button type="button" onClick={() => setAsked(undefined)}>
              {say("build.open.not")}
            </button>
          </div>
        </div>
      )}
      <div className={styles.openRow}>
        <button
          type="button"
          className={styles.main}
          disabled={!able}
          aria-describedby="build-open-why"
          data-do="open"
          onClick={() => {
            if (displacedWing(shelf, "school") === undefined) open();
            else setAsked(plan);
          }}
        >
          {say("build.open")}
        </button>
        <p id="build-open-why">{why}</p>
        <button
          type="button"
          className={styles.textButton}
          disabled={!able}
          data-do="save-plan"
          onClick={() => {
            if (plan !== undefined)
              offerFile(fileNameOf(plan.wing.name, "plan.json"), planText(plan), "application/json");
          }}
        >
          {say("build.save.plan")}
        </button>
        <button
          type="button"
          className={styles.textButton}
          disabled={isEmpty}
          data-do="save-draft"
          onClick={() => {
            const name = /^\s*name:\s*(.+)$/imu.exec(builder.getState().text)?.[1];
            offerFile(fileNameOf(name, "draft.txt"), builder.getState().text, "text/plain");
          }}
        >
          {say("build.save.draft")}
        </button>
      </div>
    </section>
  );
}

const planText = (plan: NonNullable<DraftedPlan["plan"]>): string => `${JSON.stringify(plan, null, 2)}\n`;
