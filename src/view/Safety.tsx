/** If the page itself breaks down, it says so and offers ways on instead of going blank. */
import { Component, type ReactNode } from "react";
import styles from "./Safety.module.css";

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
        <h1>This page broke down</h1>
        <p>
          A fault of the program, not of your files: {this.state.message}. What you brought is kept in this
          browser.
        </p>
        <p>
          <button type="button" onClick={() => location.reload()}>
            Load the page again
          </button>{" "}
          <button
            type="button"
            onClick={() => {
              location.hash = "wing=school";
              location.reload();
            }}
          >
            Begin with the invented wing
          </button>
        </p>
      </main>
    );
  }
}
