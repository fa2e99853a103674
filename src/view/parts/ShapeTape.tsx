/** How far shape changes are drawn beyond their true size: a cursor on a tape from 1 to 40. */
import { say, sayParts } from "../../words/index.ts";
import { LEAST_EXAGGERATION, MOST_EXAGGERATION } from "../state/choices.ts";
import { TapeSlider } from "./TapeSlider.tsx";

const LABELS: readonly number[] = [1, 10, 20, 30, 40];

export function ShapeTape(props: { readonly value: number; readonly onChange: (value: number) => void }) {
  return (
    <TapeSlider
      label={sayParts("frame.shape", {
        times: (
          <output key="times" className="figures">
            ×{props.value}
          </output>
        ),
        true: props.value === 1 ? "yes" : "no",
      })}
      name="shape"
      min={LEAST_EXAGGERATION}
      max={MOST_EXAGGERATION}
      value={props.value}
      tick={1}
      labels={LABELS}
      valueText={say("frame.shape.spoken", { times: props.value })}
      onChange={props.onChange}
    />
  );
}
