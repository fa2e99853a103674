import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import "@fontsource-variable/atkinson-hyperlegible-next/wght.css";
import "@fontsource-variable/atkinson-hyperlegible-mono/wght.css";
import "./view/base.css";
import { Safety } from "./view/Safety.tsx";
import { Spoken } from "./view/Spoken.tsx";
import { app, shelf } from "./view/state/app.ts";
import { speakAsBefore } from "./view/state/speech.ts";
import { syncAddress } from "./view/state/sync.ts";

const root = document.getElementById("root");
if (root === null) throw new Error("The page has no element with id root.");
await speakAsBefore();
syncAddress(app, shelf);
createRoot(root).render(
  <StrictMode>
    <Safety>
      <Spoken />
    </Safety>
  </StrictMode>,
);
