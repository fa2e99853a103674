/** What a printed sheet is of: the wing, its rows and side, the check. */
import type { Row, Side, Wing } from "../../../plan/model.ts";
import { longDate, say } from "../../../words/index.ts";
import { useApp } from "../../state/app.ts";
import { isAnythingTried } from "../../state/trials.ts";
import styles from "./Cascade.module.css";

export function SheetHead({
  wing,
  side,
  rows,
}: {
  readonly wing: Wing;
  readonly side: Side | "both";
  readonly rows: readonly Row[];
}) {
  const check = useApp(({ document, choices }) =>
    choices.shown === "after" ? document?.after : document?.check,
  );
  const tried = useApp(({ choices }) => choices.shown === "tried" && isAnythingTried(choices));
  const { reference } = wing;
  return (
    <header className={styles.paperHead} data-paper-head>
      <strong>
        {wing.name} {wing.size !== undefined && !wing.name.includes(wing.size) ? wing.size : ""}
      </strong>
      <span>{rows.map((row) => say("cascade.row", { row })).join(" · ")}</span>
      <span>{say("cascade.sheet.side", { side })}</span>
      <span>
        {check === undefined
          ? say("cascade.sheet.plan", { tension: reference.tensionN, from: reference.from })
          : say("cascade.sheet.check", {
              date: longDate(check.date),
              tension: check.tensionN,
              from: check.from,
            })}
      </span>
      {tried ? <span>{say("cascade.sheet.tried")}</span> : null}
    </header>
  );
}
