/** The rigging, and what the model rests on; on small screens also what is drawn, and from where. */
import type { Analysis } from "../../diagnosis/model.ts";
import { say } from "../../words/index.ts";
import { CompareChoice } from "../CompareControls.tsx";
import {
  ColourChoice,
  DirectionChoice,
  RangeChoice,
  RowChoice,
  ShapeChoice,
  SideChoice,
} from "../StageControls.tsx";
import { CautionLine } from "./Caution.tsx";
import { ModelFolds } from "./ModelFolds.tsx";
import styles from "./Panes.module.css";
import { RiggingGroup } from "./RiggingGroup.tsx";
import { TrialList } from "./TrialList.tsx";

export function ViewPane({ analysis, wide }: { readonly analysis: Analysis; readonly wide: boolean }) {
  return (
    <div className={styles.pane}>
      {wide ? null : <Controls analysis={analysis} />}
      <RiggingGroup />
      <TrialList />
      <ModelFolds analysis={analysis} />
      <CautionLine />
    </div>
  );
}

function Controls({ analysis }: { readonly analysis: Analysis }) {
  return (
    <div className={styles.viewPane}>
      <ShapeChoice />
      <div>
        <h2>{say("frame.look-from")}</h2>
        <DirectionChoice />
      </div>
      <div>
        <h2>{say("frame.two")}</h2>
        <CompareChoice />
      </div>
      <div>
        <h2>{say("frame.pane", { pane: "rows" })}</h2>
        <RowChoice analysis={analysis} />
      </div>
      <div>
        <h2>{say("panes.view.sides")}</h2>
        <SideChoice />
      </div>
      <div>
        <h2>{say("panes.view.scale")}</h2>
        <RangeChoice />
        <ColourChoice />
      </div>
    </div>
  );
}
