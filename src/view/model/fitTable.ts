/** How the canopy was found, and how well the states are balanced, in plain words. */
import type { Analysis } from "../../diagnosis/model.ts";
import type { Equilibrium, FittedParameter, WingModel } from "../../geometry/model.ts";
import type { Row } from "../../plan/model.ts";
import type { TapeMark } from "../parts/MarkTape.tsx";
import { counted, MINUS } from "./format.ts";

export interface FitRow {
  readonly name: string;
  readonly value: string;
  readonly origin: string;
  /** "± 0.3 mm", or nothing where the plan gives the value. */
  readonly spread: string;
}

const ORIGIN: Readonly<Record<FittedParameter["origin"], string>> = {
  plan: "from the plan",
  fitted: "found from the lengths",
  assumed: "assumed, typical",
};

/** Names in the trade's or at least in plain words; what isn't here is shown as the model names it. */
const NAME: Readonly<Record<string, string>> = {
  "projected over flat span": "projected over flat span",
  "arc exponent": "roundness of the arc (exponent)",
  "tip chord over root chord": "tip chord over root chord",
  "leading edge sweep": "sweep of the leading edge",
  "tip twist": "twist of the tip, nose up",
  "carabiner behind leading edge": "carabiners behind the leading edge",
  "height over carabiners": "height of the middle over the carabiners",
};

export function fitRows(model: WingModel): readonly FitRow[] {
  return model.fit.parameters.map((parameter) => {
    const { value, deviation } = shownUnit(parameter);
    const decimals = decimalsOf(parameter);
    const unit = parameter.unit === "rad" ? "°" : parameter.unit === "" ? "" : ` ${parameter.unit}`;
    return {
      name: NAME[parameter.name] ?? parameter.name,
      value: `${value.toFixed(decimals).replace("-", MINUS)}${unit}`,
      origin: ORIGIN[parameter.origin],
      spread: deviation > 0 ? `± ${significant(deviation)}${unit}` : "",
    };
  });
}

function shownUnit({ value, deviation, unit }: FittedParameter): { value: number; deviation: number } {
  const factor = unit === "rad" ? 180 / Math.PI : 1;
  return { value: value * factor, deviation: deviation * factor };
}

function decimalsOf({ unit }: FittedParameter): number {
  return unit === "m²" ? 2 : unit === "rad" ? 2 : 3;
}

/** Two significant figures, never in powers of ten. */
function significant(value: number): string {
  const decimals = Math.max(0, 1 - Math.floor(Math.log10(value)));
  return value.toFixed(Math.min(6, decimals));
}

export interface Misfits {
  readonly rmsMm: string;
  readonly largest: readonly { readonly tab: string; readonly mm: string }[];
  /** Largest size [m]. */
  readonly extentM: number;
  readonly marks: readonly { readonly row: Row; readonly marks: readonly TapeMark[] }[];
}

/** How far the fitted canopy missed the plan's paths, before the rest was absorbed. */
export function misfits(analysis: Analysis): Misfits {
  const { wing, model } = analysis;
  // The brakes' lengths don't take part in the fit.
  const all = wing.tabs.flatMap((tab, i) =>
    tab.row === "brake" ? [] : [{ tab, misfitM: model.fit.misfitM[i] ?? 0 }],
  );
  const worst = [...all].sort((a, b) => Math.abs(b.misfitM) - Math.abs(a.misfitM)).slice(0, 3);
  const rows = [...new Set(all.map(({ tab }) => tab.row))];
  return {
    rmsMm: (model.fit.rmsMisfitM * 1000).toFixed(1),
    largest: worst.map(({ tab, misfitM }) => ({
      tab: `${tab.id} ${tab.side}`,
      mm: `${misfitM < 0 ? "−" : "+"}${Math.abs(misfitM * 1000).toFixed(1)} mm`,
    })),
    extentM: Math.max(0.001, ...all.map(({ misfitM }) => Math.abs(misfitM))),
    marks: rows.map((row) => ({
      row,
      marks: all
        .filter(({ tab }) => tab.row === row)
        .map(({ tab, misfitM }) => ({ key: tab.key, side: tab.side, deviationM: misfitM })),
    })),
  };
}

export interface BalanceRow {
  readonly state: string;
  readonly text: string;
}

/** What the solver says of one state. */
export function balanceRow(name: string, model: WingModel, state: Equilibrium): BalanceRow {
  const slack = [...new Set(state.slack.flatMap((member) => model.memberLine[member] ?? []))];
  const named = slack
    .slice(0, 4)
    .map((key) => key.replace(/^(left|right):(.*)$/, "$2 $1"))
    .join(", ");
  const lines =
    slack.length === 0
      ? "no line slack"
      : `${counted(slack.length, "line")} slack (${named}${slack.length > 4 ? " …" : ""})`;
  const rest = `largest force left over ${significant(Math.max(1e-6, state.residualN))} N`;
  return {
    state: name,
    text: `${state.converged ? "in balance" : "not in balance"} after ${counted(state.iterations, "step")}, ${rest}, energy ${state.energyJ.toFixed(1)} J, ${lines}`,
  };
}
