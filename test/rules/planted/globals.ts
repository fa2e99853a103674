// Names of the page and of Node, which the core must not know: each line marked with one is to be an error.
// Every package that the core may import is imported, so that none can bring such names in by its types.
import { converter } from "culori";
import { max } from "d3-array";
import { scaleLinear } from "d3-scale";
import { line } from "d3-shape";
import { Matrix } from "ml-matrix";
import Papa from "papaparse";
import { z } from "zod";

export const packages = [converter("rgb"), max([1]), scaleLinear(), line(), Matrix.eye(2)];
export const cell: string | undefined = Papa.parse<string[]>("a,b").data[0]?.[1];
export const name: string = z.string().parse("A1");

export const a = window; // planted: window
export const b = document; // planted: document
export const c = localStorage; // planted: localStorage
export const d = fetch; // planted: fetch
export const e = console; // planted: console
export const f = performance; // planted: performance
export const g = setTimeout; // planted: setTimeout
export const h = structuredClone; // planted: structuredClone
export const i = process; // planted: process
export const j = Buffer; // planted: Buffer
export const k = globalThis.document; // planted: globalThis.document
export const l = import.meta.env; // planted: env
export type M = HTMLElement; // planted: HTMLElement
export type N = NodeJS.Timeout; // planted: NodeJS
