/** The form above the text: each field writes its statement, and shows what the text says. */
import { memo } from "react";
import { say } from "../../../words/index.ts";
import { formOf, type PlainField, withField, withStrap, withWeight } from "../../model/build-form.ts";
import { OneOf } from "../../parts/Choice.tsx";
import styles from "./Build.module.css";
import { BuildRows } from "./BuildRows.tsx";
import { builder, type Drawn } from "./builder.ts";
import { Field } from "./Field.tsx";

export const BuildForm = memo(function BuildForm({ drawn }: { readonly drawn: Drawn }) {
  const form = formOf(drawn.draft, drawn.text);
  const put = (field: PlainField) => (value: string) => {
    const state = builder.getState();
    state.write(withField(state.text, field, value), field);
  };
  const weigh = (lightest: string, heaviest: string): void => {
    const state = builder.getState();
    state.write(withWeight(state.text, lightest, heaviest), "weight");
  };
  return (
    <section className={styles.part} aria-label={say("build.form")} data-part="form">
      <h2>{say("build.form")}</h2>
      <div className={styles.fields}>
        <Field label={say("build.form.name")} value={form.name} field="name" onText={put("name")} />
        <Field label={say("build.form.size")} value={form.size} field="size" onText={put("size")} />
      </div>
      <div className={styles.fields}>
        <Field
          label={say("build.form.lightest")}
          value={form.lightest}
          field="weight"
          numeric
          onText={(text) => weigh(text, form.heaviest)}
        />
        <Field
          label={say("build.form.heaviest")}
          value={form.heaviest}
          field="heaviest"
          numeric
          onText={(text) => weigh(form.lightest, text)}
        />
        <Field
          label={say("build.form.tension")}
          value={form.tension}
          field="tension"
          numeric
          placeholder="50"
          onText={put("tension")}
        />
      </div>
      <div className={styles.choices}>
        <div>
          <span className={styles.label} aria-hidden="true">
            {say("build.form.from")}
          </span>
          <OneOf
            legend={say("build.form.from")}
            options={[
              { value: "riser", label: say("build.form.riser") },
              { value: "maillon", label: say("build.form.maillon") },
            ]}
            value={form.from ?? ""}
            onChange={put("from")}
          />
        </div>
        <div>
          <span className={styles.label} aria-hidden="true">
            {say("build.form.kind")}
          </span>
          <OneOf
            legend={say("build.form.kind")}
            options={[
              { value: "paraglider", label: say("build.form.paraglider") },
              { value: "paramotor", label: say("build.form.paramotor") },
            ]}
            value={form.kind ?? ""}
            onChange={put("kind")}
          />
        </div>
      </div>
      <BuildRows drawn={drawn} />
      {form.straps.length === 0 ? null : (
        <fieldset className={styles.straps}>
          <legend className={styles.label}>{say("build.form.straps")}</legend>
          {form.straps.map(({ id, lengthMm }, index) => (
            <div key={id} className={styles.strap}>
              <span aria-hidden="true">{id}</span>
              <Field
                label={say("build.form.strap", { id })}
                value={lengthMm}
                field={index === 0 ? "straps" : `strap ${id}`}
                numeric
                bare
                onText={(text) => {
                  if (!/^\s*(?:\d+(?:[.,]\d*)?)?\s*$/u.test(text)) return;
                  const state = builder.getState();
                  state.write(withStrap(state.text, form.straps, id, text.replace(",", ".")), `strap ${id}`);
                }}
              />
            </div>
          ))}
        </fieldset>
      )}
    </section>
  );
});
