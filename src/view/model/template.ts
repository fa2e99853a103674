/** An empty sheet for the readings of one wing. */
import type { Wing } from "../../plan/model.ts";
import { guardFormula } from "../../readings/index.ts";

/**
 * CSV text (RFC 4180): how it is to be read in comment lines, then one record a tab name with empty columns for left and right.
 * The date is left open, so that nobody hands in a sheet with the day it was printed.
 */
export function readingsTemplate(wing: Wing): string {
  const names = [...new Set(wing.tabs.map((tab) => tab.id))];
  const head = [
    `# wing: ${wing.name}`,
    "# date:",
    `# tension: ${wing.reference.tensionN} N`,
    `# from: ${wing.reference.from}`,
  ];
  const lines = [
    ...head.map(quoted),
    "tab,left [mm],right [mm]",
    ...names.map((name) => `${quoted(guardFormula(name))},,`),
  ];
  return `${lines.join("\r\n")}\r\n`;
}

function quoted(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
