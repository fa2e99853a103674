/** The plan: its cascade drawn, its tables to edit, and another one built. */

import { type Key, say } from "../../words/index.ts";
import { OneOf } from "../parts/Choice.tsx";
import { BuildPart } from "../plan/BuildPart.tsx";
import { CascadePart } from "../plan/CascadePart.tsx";
import { EditPart } from "../plan/EditPart.tsx";
import { useApp } from "../state/app.ts";
import { PLAN_PARTS, type PlanPart } from "../state/choices.ts";
import styles from "./Panes.module.css";

const LABEL: Readonly<Record<PlanPart, Key>> = {
  cascade: "cascade.part",
  edit: "edit.part",
  build: "build.part",
};

export function PlanPane() {
  const part = useApp(({ choices }) => choices.planPart);
  const choose = useApp((state) => state.choose);
  return (
    <div className={styles.pane}>
      <div className={styles.parts}>
        <OneOf
          legend={say("frame.plan.parts")}
          options={PLAN_PARTS.map((value) => ({ value, label: say(LABEL[value]) }))}
          value={part}
          onChange={(planPart) => choose({ planPart })}
        />
      </div>
      {part === "cascade" ? <CascadePart /> : part === "edit" ? <EditPart /> : <BuildPart />}
    </div>
  );
}
