/** How one is asked: aloud, with tones, with or without the figure that is expected. */
import { say } from "../../words/index.ts";
import { chooseWays, useWays, type Ways } from "../state/measure-app.ts";
import styles from "./Overview.module.css";
import { canSpeak } from "./sound.ts";

export function WaysPart() {
  const ways = useWays();
  const speaks = canSpeak();
  const tick = (name: keyof Ways, label: string, hint: string | undefined, isOff = false) => (
    <label className={styles.tick}>
      <input
        type="checkbox"
        data-way={name}
        checked={ways[name] && !isOff}
        disabled={isOff}
        onChange={({ target }) => chooseWays({ [name]: target.checked })}
      />
      <span>
        {label}
        {hint === undefined ? null : <small>{hint}</small>}
      </span>
    </label>
  );
  return (
    <div className={styles.ways} role="group" aria-label={say("measure.ways")}>
      <h3>{say("measure.ways")}</h3>
      {tick(
        "isSpoken",
        say("measure.ways.spoken"),
        speaks ? undefined : say("measure.ways.noVoice"),
        !speaks,
      )}
      {tick("hasTones", say("measure.ways.tones"), undefined)}
      {tick("showsExpected", say("measure.ways.expected"), say("measure.ways.expectedWhy"))}
    </div>
  );
}
