/** Readings taken one by one with full hands: a guided session for the wing on the screen. */
import { useEffect } from "react";
import { say } from "../../words/index.ts";
import { SessionScreen } from "../measure/SessionScreen.tsx";
import { StartScreen } from "../measure/StartScreen.tsx";
import { useApp } from "../state/app.ts";
import { wingKey } from "../state/measure.ts";
import { measure, useActive, useMeasure } from "../state/measure-app.ts";
import styles from "./Panes.module.css";

export function ReadPane() {
  const document = useApp((state) => state.document);
  const isLoaded = useMeasure(({ loaded }) => loaded);
  const active = useActive();
  useEffect(() => {
    void measure.getState().load();
  }, []);
  if (document === undefined || !isLoaded) return <p className={styles.note}>{say("measure.opening")}</p>;
  return active === undefined ? (
    <StartScreen key={wingKey(document.plan)} document={document} />
  ) : (
    <SessionScreen key={active.card.id} document={document} kept={active} />
  );
}
