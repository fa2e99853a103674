/** What strokes and figures of the drawn cascade mean. */
import { deviationColour } from "../../../diagnosis/colour.ts";
import type { Wing } from "../../../plan/model.ts";
import { length, lengthUnitName, say } from "../../../words/index.ts";
import type { Figures, Strokes } from "../../model/cascade-drawing.ts";
import styles from "./Cascade.module.css";

export function Legend(props: {
  readonly strokes: Strokes;
  readonly figures: Figures;
  readonly read: boolean;
  readonly wing: Wing;
  readonly dashes: ReadonlyMap<string, string | undefined>;
  readonly of: "path" | "line";
  readonly scale: { readonly rangeM: number; readonly neutralM: number };
}) {
  const { strokes, figures, read, wing, dashes, of, scale } = props;
  return (
    <div className={styles.legend} data-legend={strokes}>
      {strokes === "deviation" ? (
        <p>
          {read ? (
            <>
              <ScaleBar scale={scale} />{" "}
              {say("cascade.legend.deviation", {
                of,
                short: length(scale.rangeM),
                long: length(scale.rangeM),
                grey: length(scale.neutralM, 1),
              })}
            </>
          ) : (
            say("cascade.legend.unread")
          )}
        </p>
      ) : null}
      {strokes === "material" ? (
        <ul className={styles.materials}>
          {[...dashes].map(([id, dash]) => (
            <li key={id}>
              <svg width={46} height={10} aria-hidden="true">
                <path d="M1 5H45" stroke="var(--ink)" strokeWidth={2} strokeDasharray={dash} />
              </svg>
              {id}
            </li>
          ))}
        </ul>
      ) : null}
      <p>{say("cascade.legend.figures", { figures, unit: lengthUnitName(), from: wing.reference.from })}</p>
    </div>
  );
}

const STEPS = 21;

/** The colours from short to long. */
function ScaleBar({ scale }: { readonly scale: { readonly rangeM: number; readonly neutralM: number } }) {
  return (
    <svg className={styles.scale} width={105} height={12} aria-hidden="true">
      {Array.from({ length: STEPS }, (_, step) => {
        const share = (2 * step) / (STEPS - 1) - 1;
        return (
          <rect
            key={share}
            x={step * 5}
            width={5.4}
            height={12}
            fill={deviationColour(share * scale.rangeM, scale).hex}
          />
        );
      })}
    </svg>
  );
}
