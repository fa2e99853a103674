/** What the state shown is held against, and how the two are drawn. */
import { say } from "../words/index.ts";
import styles from "./CompareControls.module.css";
import { OneOf } from "./parts/Choice.tsx";
import { useApp, useLive } from "./state/app.ts";
import { AGAINST, type Choices, COMPARE } from "./state/choices.ts";
import { heldAgainst, pairShown, statesThere } from "./state/pair.ts";

export function CompareChoice() {
  const live = useLive();
  const shown = useApp(({ choices }) => choices.shown);
  const asked = useApp(({ choices }) => choices.against);
  const compare = useApp(({ choices }) => choices.compare);
  const colourOf = useApp(({ choices }) => choices.colourOf);
  const choose = useApp((state) => state.choose);
  if (live === undefined) return null;
  const there = statesThere(live);
  if (there.length < 2) return null;
  const pair = pairShown(live, shown, asked);
  return (
    <div className={styles.compare} role="group" aria-label={say("frame.two")}>
      <label className={styles.against}>
        <span className="unseen">{say("frame.held")}</span>
        <select
          value={pair.against ?? "nothing"}
          data-choice="against"
          onChange={({ target }) => {
            const against = AGAINST.find((each) => each === target.value);
            if (against !== undefined) choose(heldAgainst(pair, shown, against));
          }}
        >
          <option value="nothing">{say("frame.held.against", { state: "nothing" })}</option>
          {there
            .filter((id) => id !== pair.front)
            .map((id) => (
              <option key={id} value={id}>
                {say("frame.held.against", { state: id })}
              </option>
            ))}
        </select>
      </label>
      {pair.against === undefined ? null : (
        <>
          <OneOf
            legend={say("frame.how")}
            options={COMPARE.map((value) => ({ value, label: say("frame.how.way", { way: value }) }))}
            value={compare}
            onChange={(value) => choose({ compare: value })}
          />
          <label className={styles.tint}>
            <input
              type="checkbox"
              checked={colourOf === "difference"}
              data-choice="tint"
              onChange={({ target }) => choose({ colourOf: target.checked ? "difference" : "own" })}
            />
            {say("frame.tint")}
          </label>
        </>
      )}
    </div>
  );
}

const PAIRS = {
  planned: { front: "tried", against: "measured" },
  kept: { front: "after", against: "tried" },
  work: { front: "after", against: "measured" },
} as const;
type PairName = keyof typeof PAIRS;
const PAIR_NAMES: readonly PairName[] = ["planned", "kept", "work"];

/** What a pair of states around the work is shown by: the later in front, coloured by what they differ by. */
export function pairChoice(name: PairName): Pick<Choices, "shown" | "against" | "colourOf"> {
  const { front, against } = PAIRS[name];
  return { shown: front, against, colourOf: "difference" };
}

/** The three pairs of states around the work; those without their states now can't be chosen. */
export function WorkPairs() {
  const live = useLive();
  const shown = useApp(({ choices }) => choices.shown);
  const asked = useApp(({ choices }) => choices.against);
  const choose = useApp((state) => state.choose);
  if (live === undefined) return null;
  const there = statesThere(live);
  const pair = pairShown(live, shown, asked);
  const now = PAIR_NAMES.find(
    (name) => PAIRS[name].front === pair.front && PAIRS[name].against === pair.against,
  );
  return (
    <OneOf<PairName | "other">
      legend={say("frame.pairs")}
      options={PAIR_NAMES.map((value) => ({ value, label: say("frame.pairs.pair", { pair: value }) }))}
      value={now ?? "other"}
      onChange={(name) => {
        if (name !== "other") choose(pairChoice(name));
      }}
      disabled={(name) =>
        name !== "other" && !(there.includes(PAIRS[name].front) && there.includes(PAIRS[name].against))
      }
    />
  );
}
