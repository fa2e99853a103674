/** What is drawn on the stage and from where; each control stands alone so that wide and small screens can place it. */
import type { Analysis } from "../diagnosis/model.ts";
import { SIDES } from "../plan/model.ts";
import { length, say } from "../words/index.ts";
import { ColourBy, colourMeaning } from "./judging/ColourBy.tsx";
import { rowName } from "./model/format.ts";
import { rowsOf, toggled } from "./model/picked.ts";
import { RANGES_M } from "./model/tape.ts";
import { OneOf, SomeOf } from "./parts/Choice.tsx";
import { ShapeTape } from "./parts/ShapeTape.tsx";
import styles from "./StageControls.module.css";
import { useApp, useLive, useRangeM } from "./state/app.ts";
import { COLOURED_BY, DIRECTIONS, SHOWN } from "./state/choices.ts";
import { stateShown } from "./state/live.ts";
import { isAnythingTried } from "./state/trials.ts";

/** The fourth state is there as long as something is tried, the fifth where a check was taken after the work. */
export function ShownChoice() {
  const live = useLive();
  const tried = useApp(({ choices }) => isAnythingTried(choices));
  const shown = useApp(({ choices }) => choices.shown);
  const choose = useApp((state) => state.choose);
  const unread = live !== undefined && live.states.measured === undefined;
  return (
    <OneOf
      legend={say("frame.shown")}
      options={SHOWN.filter(
        (value) => (value !== "tried" || tried) && (value !== "after" || live?.after !== undefined),
      ).map((value) => ({
        value,
        label: say("frame.shown.state", { state: value }),
      }))}
      value={live === undefined || shown === "tried" ? shown : stateShown(live, shown)}
      onChange={(value) => choose({ shown: value, against: undefined })}
      disabled={(value) => unread && (value === "measured" || value === "both")}
    />
  );
}

export function RowChoice({ analysis }: { readonly analysis: Analysis }) {
  const rows = useApp(({ choices }) => choices.rows);
  const choose = useApp((state) => state.choose);
  return (
    <SomeOf
      legend={say("frame.rows.drawn")}
      options={rowsOf(analysis).map((value) => ({ value, label: rowName(value) }))}
      value={rows}
      onToggle={(row) => choose({ rows: toggled(rows, row) })}
    />
  );
}

export function SideChoice() {
  const sides = useApp(({ choices }) => choices.sides);
  const choose = useApp((state) => state.choose);
  return (
    <SomeOf
      legend={say("frame.sides.drawn")}
      options={SIDES.map((value) => ({ value, label: say("judging.side", { side: value }) }))}
      value={sides}
      onToggle={(side) => choose({ sides: toggled(sides, side) })}
    />
  );
}

export function DirectionChoice() {
  const direction = useApp(({ choices }) => choices.direction);
  const look = useApp((state) => state.look);
  return (
    <div className={styles.directions} role="group" aria-label={say("frame.look-from")}>
      {DIRECTIONS.map((name) => (
        <button key={name} type="button" aria-pressed={direction === name} onClick={() => look(name)}>
          {say("frame.direction", { direction: name })}
        </button>
      ))}
    </div>
  );
}

export function ShapeChoice() {
  const exaggeration = useApp(({ choices }) => choices.exaggeration);
  const choose = useApp((state) => state.choose);
  return <ShapeTape value={exaggeration} onChange={(value) => choose({ exaggeration: value })} />;
}

/** @param brief one field where there is no room for what it means */
export function ColourChoice({ brief = false }: { readonly brief?: boolean }) {
  const by = useApp(({ choices }) => choices.colouredBy);
  const choose = useApp((state) => state.choose);
  if (!brief) return <ColourBy value={by} onChange={(colouredBy) => choose({ colouredBy })} />;
  return (
    <label className={styles.range}>
      <span className="unseen">{say("judging.colour")}</span>
      <select
        value={by}
        title={colourMeaning(by)}
        data-choice="colour"
        onChange={({ target }) =>
          choose({ colouredBy: COLOURED_BY.find((each) => each === target.value) ?? "path" })
        }
      >
        {COLOURED_BY.map((each) => (
          <option key={each} value={each}>
            {say("frame.colour.option", { by: each })}
          </option>
        ))}
      </select>
    </label>
  );
}

export function RangeChoice() {
  const own = useApp(({ choices }) => choices.rangeM);
  const rangeM = useRangeM();
  const choose = useApp((state) => state.choose);
  const offered = RANGES_M.includes(rangeM) ? RANGES_M : [...RANGES_M, rangeM].sort((a, b) => a - b);
  return (
    <label className={styles.range}>
      <span className="unseen">{say("frame.range")}</span>
      <select
        value={own === undefined ? "auto" : String(own)}
        onChange={(event) =>
          choose({ rangeM: event.target.value === "auto" ? undefined : Number(event.target.value) })
        }
      >
        <option value="auto">{say("frame.range.auto", { limit: length(rangeM) })}</option>
        {offered.map((range) => (
          <option key={range} value={String(range)}>
            {say("frame.range.own", { limit: length(range) })}
          </option>
        ))}
      </select>
    </label>
  );
}
