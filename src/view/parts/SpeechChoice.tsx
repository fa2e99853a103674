/** The language and the unit of short lengths. */
import { LANGUAGE_NAMES, LANGUAGES, say } from "../../words/index.ts";
import { chooseSpeech, useSpeech } from "../state/speech.ts";
import styles from "./SpeechChoice.module.css";

export function SpeechChoice() {
  const { language, unit } = useSpeech();
  return (
    <span className={styles.choices}>
      <select
        aria-label={say("frame.language")}
        value={language}
        data-input="language"
        onChange={({ target }) =>
          void chooseSpeech({ language: LANGUAGES.find((name) => name === target.value) ?? "en" })
        }
      >
        {LANGUAGES.map((name) => (
          <option key={name} value={name} lang={name}>
            {LANGUAGE_NAMES[name]}
          </option>
        ))}
      </select>
      <select
        aria-label={say("frame.unit")}
        value={unit}
        data-input="unit"
        onChange={({ target }) => void chooseSpeech({ unit: target.value === "in" ? "in" : "mm" })}
      >
        <option value="mm">{say("units.mm")}</option>
        <option value="in">{say("units.in")}</option>
      </select>
    </span>
  );
}
