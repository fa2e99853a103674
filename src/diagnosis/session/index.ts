/** Judging readings while they are taken. */
export { type PlausibleOptions, plausibleNow } from "./plausible-now.ts";
