/** The page in the language that is chosen; another language or unit draws it anew. */
import { App } from "./App.tsx";
import { useSpeech } from "./state/speech.ts";

export function Spoken() {
  const { turn } = useSpeech();
  return <App key={turn} />;
}
