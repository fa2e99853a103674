/** The language and unit of this page: the person's choice, kept in this browser, or what the browser prefers. */
import { useStore } from "zustand";
import { createStore } from "zustand/vanilla";
import {
  catalogueOf,
  LANGUAGES,
  type Language,
  type LengthUnit,
  languageFor,
  localeOf,
  speak,
} from "../../words/index.ts";
import { app, shelf } from "./app.ts";

const PLACE = "linewright.speech";

export interface SpeechChosen {
  readonly language: Language;
  readonly unit: LengthUnit;
}

/** Counted up by each change, so that what is on the screen is said anew. */
const spoken = createStore<SpeechChosen & { readonly turn: number }>()(() => ({
  language: "en",
  unit: "mm",
  turn: 0,
}));

function kept(): Partial<SpeechChosen> {
  try {
    const found = JSON.parse(shelf?.getItem(PLACE) ?? "{}") as Partial<Record<keyof SpeechChosen, unknown>>;
    const language = LANGUAGES.find((known) => known === found.language);
    const unit = (["mm", "in"] as const).find((known) => known === found.unit);
    return { ...(language && { language }), ...(unit && { unit }) };
  } catch {
    return {};
  }
}

async function put({ language, unit }: SpeechChosen): Promise<void> {
  speak({
    language,
    unit,
    locale: localeOf(language, navigator.languages),
    catalogue: await catalogueOf(language),
  });
  document.documentElement.lang = language;
  spoken.setState((before) => ({ language, unit, turn: before.turn + 1 }));
}

/** Before the first thing is shown. Where the catalogue can't be fetched, English stays. */
export async function speakAsBefore(): Promise<void> {
  const { language = languageFor(navigator.languages), unit = "mm" } = kept();
  try {
    await put({ language, unit });
  } catch {
    await put({ language: "en", unit });
  }
}

/** Another language or unit; what the worker found is put into words anew. */
export async function chooseSpeech(change: Partial<SpeechChosen>): Promise<void> {
  const { language, unit } = spoken.getState();
  const next = { language, unit, ...change };
  await put(next);
  try {
    shelf?.setItem(PLACE, JSON.stringify(next));
  } catch {
    // It holds as long as the page then.
  }
  app.getState().sayAnew();
}

export function useSpeech(): SpeechChosen & { readonly turn: number } {
  return useStore(spoken);
}
