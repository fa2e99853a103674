/** The loop of the line that is picked, to be changed right there. Nothing for a line that hangs on no maillon. */
import { useMemo } from "react";
import { say } from "../../words/index.ts";
import { handLine } from "../model/workshop-loops-hand.ts";
import { useApp } from "../state/app.ts";
import { tieByHand } from "../state/loops.ts";
import styles from "./Loops.module.css";
import { LoopsStepper } from "./LoopsStepper.tsx";

export function LoopsAtMaillon({ lineKey, name }: { readonly lineKey: string; readonly name: string }) {
  const loops = useApp((state) => state.document?.loops);
  const chosen = useApp(({ choices }) => choices.loops);
  const withTwin = useApp((state) => state.withTwin);
  const loop = useMemo(() => loops?.find((each) => each.lineKey === lineKey), [loops, lineKey]);
  if (loop === undefined) return null;
  return (
    <div className={styles.atMaillon} data-at-maillon={lineKey}>
      <span>
        {say("loops.maillon", {
          maillon: loop.maillonId,
          twin: withTwin && loop.mirrorKey !== undefined ? "along" : "alone",
        })}
      </span>
      <LoopsStepper line={handLine(loop, name, chosen)} onTie={(to) => tieByHand(lineKey, to)} />
    </div>
  );
}
