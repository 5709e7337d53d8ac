import { autumnRangeExport } from "./autumn-range";
import { springBayExport } from "./spring-bay";

/**
 * The seeds of the sessions; another seed is another session. These two were picked from 120 because the strikes come
 * out close to the tester's habits, and among the few that did so, by how plainly the session shows what the samples
 * are there to show: a tester who tires, and a comparison that averages get wrong. They are examples, not evidence.
 */
export const sampleSeeds = { springBay: 2032n, autumnRange: 2037n } as const;

/**
 * The generated files of `sample-notebooks`, by path within it.
 *
 * Every shot is invented: a tester who never was hits heads that never were. Session files and notebooks are written by
 * hand beside them.
 */
export function sampleFiles(): ReadonlyMap<string, string> {
  return new Map([
    ["sessions/spring-bay-1.csv", springBayExport(sampleSeeds.springBay)],
    ["sessions/autumn-range-1-heron.csv", autumnRangeExport(sampleSeeds.autumnRange, "Heron")],
    ["sessions/autumn-range-1-plover.csv", autumnRangeExport(sampleSeeds.autumnRange, "Plover")],
  ]);
}
