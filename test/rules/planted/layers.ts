// What else the core's own type check refuses: Node's and the view's packages.
import { readFileSync } from "node:fs"; // planted: node:fs
import { Stats } from "fs"; // planted: fs

export const read = [readFileSync, Stats];
