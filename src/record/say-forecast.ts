/** A row's forecast in words. */
import { plainMm, signedMm } from "../diagnosis/wording.ts";
import { fixed, longDate, say } from "../words/index.ts";
import type { RowSeries } from "./history.ts";
import { dateOfDay } from "./hours.ts";
import type { Forecast, Trend, TrendAxis } from "./trend.ts";

type Series = Pick<RowSeries, "row" | "side" | "against">;

/** A row, with its side where it is of one (`Row C, left`), or a row against another (`Row A against row C`). */
export function saySeries({ row, side, against }: Series): string {
  return against === undefined
    ? say("record.row", { row, side: side ?? "both" })
    : say("diagnosis.subject.rows", { front: row, rear: against });
}

/** A place on a trend's axis: a date written out, or flight hours. */
export function sayPlace(axis: TrendAxis, x: number): string {
  return axis === "date" ? longDate(dateOfDay(x)) : say("record.forecast.hours", { hours: fixed(x, 0) });
}

/**
 * What is to be expected of a row, in a sentence. To be shown with {@link forecastCaution}.
 *
 * @param from where looking ahead began
 */
export function sayForecast(
  series: Series,
  trend: Trend,
  forecast: Forecast,
  axis: TrendAxis,
  from: number,
): string {
  const subject = saySeries(series);
  switch (forecast.kind) {
    case "beyond":
      return say("record.forecast.beyond", { subject, limit: signedMm(forecast.limitM) });
    case "changed since":
      return say("record.forecast.changed", { subject });
    case "no trend":
      return trend.kind === "difference"
        ? say("record.forecast.two", {
            subject,
            change: changeText(trend.changeM, trend.standardUncertaintyM),
          })
        : say("record.forecast.none", { subject });
    case "not in sight": {
      const far =
        axis === "hours" ? fixed(forecast.horizon - from, 0) : longDate(dateOfDay(forecast.horizon));
      return say("record.forecast.not", { subject, axis, far });
    }
    case "in sight": {
      const { earliest, likely, latest } = forecast;
      const limit = signedMm(forecast.limitM);
      const first = earliest <= from ? say("record.forecast.now") : sayPlace(axis, earliest);
      if (likely === undefined || latest === undefined)
        return say("record.forecast.open", { subject, limit, earliest: first });
      return say("record.forecast.between", {
        subject,
        limit,
        earliest: first,
        latest: sayPlace(axis, latest),
        likely: sayPlace(axis, likely),
      });
    }
  }
}

/** `−4.2 ± 0.6 mm`: the change and its standard uncertainty. */
function changeText(changeM: number, standardUncertaintyM: number): string {
  return `${signedMm(changeM, 1)} ± ${plainMm(standardUncertaintyM, 1)}`;
}

/** That a line drawn on is no clearance: to be shown with every forecast. */
export function forecastCaution(): string {
  return say("record.forecast.caution");
}
