/** The meter that is connected to this page, if there is one. */
import { useStore } from "zustand";
import { createStore } from "zustand/vanilla";
import type { ConnectedMeter } from "../measure/meters/connected.ts";

export type MeterState =
  | { readonly state: "none" }
  | { readonly state: "connecting" }
  | { readonly state: "connected"; readonly name: string; readonly lines: number }
  /** `message` undefined: the person chose none. */
  | { readonly state: "failed"; readonly message: string | undefined }
  | { readonly state: "gone"; readonly name: string };

const meter = createStore<{ readonly now: MeterState }>()(() => ({ now: { state: "none" } }));

let connected: ConnectedMeter | undefined;
let takeLine: ((text: string) => void) | undefined;
let stopListening: (() => void)[] = [];

export function useMeter(): MeterState {
  return useStore(meter, ({ now }) => now);
}

/** Who gets the lines; the last one wins. @returns an end to it */
export function onMeterLine(take: (text: string) => void): () => void {
  takeLine = take;
  return () => {
    if (takeLine === take) takeLine = undefined;
  };
}

/**
 * Connects a meter in place of the one there is. To be called upon a click or key: browsers ask for the device only then.
 *
 * @param unheard for lines that nobody takes, as no session is on the screen
 */
export async function connectMeter(source: ConnectedMeter, unheard: (text: string) => void): Promise<void> {
  meter.setState({ now: { state: "connecting" } });
  try {
    await leaveMeter();
    meter.setState({ now: { state: "connecting" } });
    stopListening = [
      source.onReading((text) => {
        const { now } = meter.getState();
        const lines = (now.state === "connected" ? now.lines : 0) + 1;
        meter.setState({ now: { state: "connected", name: source.name, lines } });
        (takeLine ?? unheard)(text);
      }),
      source.onGone(() => {
        forget();
        meter.setState({ now: { state: "gone", name: source.name } });
      }),
    ];
    connected = source;
    await source.open();
    meter.setState({ now: { state: "connected", name: source.name, lines: 0 } });
  } catch (refusal) {
    forget();
    const isChoice = refusal instanceof DOMException && refusal.name === "NotFoundError";
    const message = isChoice ? undefined : refusal instanceof Error ? refusal.message : String(refusal);
    meter.setState({ now: { state: "failed", message } });
  }
}

export async function leaveMeter(): Promise<void> {
  const leaving = connected;
  await leaving?.close().catch(() => undefined);
  forget();
  meter.setState({ now: { state: "none" } });
}

function forget(): void {
  for (const stop of stopListening) stop();
  stopListening = [];
  connected = undefined;
}
