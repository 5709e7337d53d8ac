import { readFileSync } from "node:fs";
import { LSPErrorCodes, ResponseError } from "vscode-languageserver/node";
import type { StdioClient } from "./stdio-client";

/** Milliseconds that the server waits after the last change before it checks. */
export const pause = 150;

/** Times of one kind of request, in milliseconds, or why there are none. */
export interface Measured {
  readonly words: string;
  readonly times: readonly number[];
  /** The 95th percentile should be below this. */
  readonly goal: number;
  readonly fault: string | null;
}

/** Waits until nothing was published for a while. */
export async function quiet(client: StdioClient, milliseconds: number): Promise<void> {
  for (let seen = -1; seen !== client.published.length; ) {
    seen = client.published.length;
    await new Promise((resolve) => setTimeout(resolve, milliseconds));
  }
}

/** Runs `once` so many times; a method that the server does not know is said and not tried again. */
export async function measure(words: string, goal: number, rounds: number, once: () => Promise<number>): Promise<Measured> {
  const times: number[] = [];
  try {
    // The first round warms up and is left out.
    for (let round = 0; round <= rounds; round++) {
      const time = await once();
      if (round > 0) times.push(time);
    }
    return { words, times, goal, fault: null };
  } catch (error) {
    const isUnknown = error instanceof ResponseError && error.code === -32601;
    return { words, times, goal, fault: isUnknown ? "method not found" : String(error) };
  }
}

/** True for the fault of a request whose document changed before it was looked at: an answer as good as any. */
export function isOutdated(fault: unknown): boolean {
  return fault instanceof ResponseError && fault.code === LSPErrorCodes.ContentModified;
}

/** The most memory that a process ever had, in MB; `null` where the system does not tell. Source: proc(5), VmHWM. */
export function peakMemory(id: number): number | null {
  try {
    const kilobytes = /^VmHWM:\s+(\d+) kB$/mu.exec(readFileSync(`/proc/${id}/status`, "utf8"))?.[1];
    return kilobytes === undefined ? null : Number(kilobytes) / 1024;
  } catch {
    // There is no such file but on Linux.
    return null;
  }
}

/** Prints the percentiles of some times; true when the goal is met. */
export function printRow({ words, times, goal, fault }: Measured): boolean {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (p: number): number => sorted[Math.min(sorted.length - 1, Math.floor(p * sorted.length))] ?? Number.NaN;
  const shown = (time: number): string => (Number.isNaN(time) ? "–" : time.toFixed(1)).padStart(8);
  const isMet = fault === null && at(0.95) < goal;
  console.log(
    `  ${words.padEnd(46)}p50${shown(at(0.5))} p95${shown(at(0.95))} max${shown(sorted.at(-1) ?? Number.NaN)} ms  goal: p95 < ${goal} ms${isMet ? "" : `  ${fault ?? "MISSED"}`}`,
  );
  return isMet;
}

/** Prints how much memory was used; true when that is below 300 MB, or not told. */
export function printMemory(words: string, megabytes: number | null): boolean {
  const isMet = megabytes === null || megabytes < 300;
  console.log(`  ${words.padEnd(46)}${megabytes === null ? "not told by this system" : `${megabytes.toFixed(0)} MB  goal: < 300 MB${isMet ? "" : "  MISSED"}`}`);
  return isMet;
}
