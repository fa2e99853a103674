/** What a sheet of readings doesn't say by itself, asked in four fields with the plan's answers filled in. */
import { useState } from "react";
import type { Wing } from "../../plan/model.ts";
import { OneOf } from "../parts/Choice.tsx";
import { useApp } from "../state/app.ts";
import { suggestedFrame } from "../state/core.ts";
import type { PendingSheet } from "../state/opening.ts";
import { takeSheetAs } from "../state/recheck.ts";
import styles from "./Panes.module.css";

/** Where there are readings already, it's asked too whether these take their place or come after the work. */
export function SheetForm({ sheet, wing }: { readonly sheet: PendingSheet; readonly wing: Wing }) {
  const present = useApp((state) => state.document?.check !== undefined);
  const takeSheet = useApp((state) => state.takeSheet);
  const dropSheet = useApp((state) => state.dropSheet);
  const [suggested] = useState(() => suggestedFrame(wing, new Date()));
  const [date, setDate] = useState(suggested.date);
  const [tension, setTension] = useState(String(Math.round(suggested.tensionN)));
  const [from, setFrom] = useState(suggested.from);
  const [zero, setZero] = useState("0");

  return (
    <form
      className={styles.sheet}
      aria-label={`How ${sheet.name} was read`}
      onSubmit={(event) => {
        event.preventDefault();
        takeSheet({
          ...suggested,
          date,
          from,
          tensionN: Number(tension),
          instrumentZeroM: Number(zero) / 1000,
        });
      }}
    >
      <h3>How was {sheet.name} read?</h3>
      <p>For {wing.name}. What the sheet itself says in lines that begin with # goes before these answers.</p>
      {present ? (
        <OneOf
          legend="What these readings are"
          options={[
            { value: "before", label: "In place of those there" },
            { value: "after", label: "Read after the work" },
          ]}
          value={sheet.as}
          onChange={takeSheetAs}
        />
      ) : null}
      <div className={styles.fields}>
        <label>
          Date
          <input type="date" required value={date} onChange={(event) => setDate(event.target.value)} />
        </label>
        <label>
          Tension, N
          <input
            type="number"
            inputMode="decimal"
            required
            min={1}
            max={1000}
            step="any"
            value={tension}
            onChange={(event) => setTension(event.target.value)}
          />
        </label>
        <label>
          Measured from
          <select
            value={from}
            onChange={(event) => setFrom(event.target.value === "maillon" ? "maillon" : "riser")}
          >
            <option value="riser">riser base (carabiner)</option>
            <option value="maillon">maillon, inner edge</option>
          </select>
        </label>
        <label>
          Shown at zero length, mm
          <input
            type="number"
            inputMode="decimal"
            required
            min={-2000}
            max={2000}
            step="any"
            value={zero}
            onChange={(event) => setZero(event.target.value)}
          />
        </label>
      </div>
      <div className={styles.actions}>
        <button type="submit" className={styles.button}>
          Use these readings
        </button>
        <button type="button" className={styles.textButton} onClick={dropSheet}>
          Leave it
        </button>
      </div>
    </form>
  );
}
