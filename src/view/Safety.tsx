/** If the page itself breaks down, it says so and offers ways on instead of going blank. */
import { Component, type ReactNode } from "react";
import { ENGLISH, type Key, say } from "../words/index.ts";
import styles from "./Safety.module.css";

/** What breaks the page may be a catalogue that isn't there or a message that can't be read: English then, as it is written. */
function saidAnyhow(key: Key, message = ""): string {
  try {
    return say(key, { message });
  } catch {
    return ENGLISH[key].replace("{message}", message);
  }
}

export class Safety extends Component<
  { readonly children: ReactNode },
  { readonly message: string | undefined }
> {
  override state: { readonly message: string | undefined } = { message: undefined };

  static getDerivedStateFromError(fault: unknown): { readonly message: string } {
    return { message: fault instanceof Error ? fault.message : String(fault) };
  }

  override render(): ReactNode {
    if (this.state.message === undefined) return this.props.children;
    return (
      <main className={styles.safety} role="alert">
        <h1>{saidAnyhow("frame.broke")}</h1>
        <p>{saidAnyhow("frame.broke.why", this.state.message)}</p>
        <p>
          <button type="button" onClick={() => location.reload()}>
            {saidAnyhow("frame.broke.again")}
          </button>{" "}
          <button
            type="button"
            onClick={() => {
              location.hash = "wing=school";
              location.reload();
            }}
          >
            {saidAnyhow("frame.broke.afresh")}
          </button>
        </p>
      </main>
    );
  }
}
