/** All texts of one language. */

import build from "./build.json" with { type: "json" };
import cascade from "./cascade.json" with { type: "json" };
import charts from "./charts.json" with { type: "json" };
import cli from "./cli.json" with { type: "json" };
import demo from "./demo.json" with { type: "json" };
import diagnosis from "./diagnosis.json" with { type: "json" };
import draft from "./draft.json" with { type: "json" };
import edit from "./edit.json" with { type: "json" };
import exported from "./export.json" with { type: "json" };
import frame from "./frame.json" with { type: "json" };
import geometry from "./geometry.json" with { type: "json" };
import intake from "./intake.json" with { type: "json" };
import judging from "./judging.json" with { type: "json" };
import loops from "./loops.json" with { type: "json" };
import measure from "./measure.json" with { type: "json" };
import panes from "./panes.json" with { type: "json" };
import plan from "./plan.json" with { type: "json" };
import readings from "./readings.json" with { type: "json" };
import recheck from "./recheck.json" with { type: "json" };
import record from "./record.json" with { type: "json" };
import replace from "./replace.json" with { type: "json" };
import session from "./session.json" with { type: "json" };
import stage from "./stage.json" with { type: "json" };
import tables from "./tables.json" with { type: "json" };
import units from "./units.json" with { type: "json" };
import workshop from "./workshop.json" with { type: "json" };

export default {
  ...plan,
  ...draft,
  ...readings,
  ...tables,
  ...session,
  ...geometry,
  ...diagnosis,
  ...workshop,
  ...demo,
  ...cli,
  ...frame,
  ...stage,
  ...panes,
  ...judging,
  ...charts,
  ...loops,
  ...replace,
  ...recheck,
  ...measure,
  ...intake,
  ...cascade,
  ...build,
  ...edit,
  ...exported,
  ...record,
  ...units,
};
