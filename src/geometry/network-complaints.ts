/** What is wrong with a network file, gathered while it is read. */
import type { Problem } from "../plan/index.ts";
import type { NetworkId } from "./network-schema.ts";

/** Gathers what is wrong; `where` is the JSON path. */
export interface Complaints {
  readonly list: Problem[];
  error(where: string, subject: NetworkId | undefined, message: string, remedy: string): void;
  warning(where: string, subject: NetworkId | undefined, message: string, remedy: string): void;
}

export function newComplaints(): Complaints {
  const list: Problem[] = [];
  const collect =
    (severity: Problem["severity"]) =>
    (where: string, subject: NetworkId | undefined, message: string, remedy: string): void => {
      list.push({
        severity,
        where,
        subject: subject === undefined ? undefined : String(subject),
        message,
        remedy,
      });
    };
  return { list, error: collect("error"), warning: collect("warning") };
}

export function hasErrors(complaints: Complaints): boolean {
  return complaints.list.some((problem) => problem.severity === "error");
}
