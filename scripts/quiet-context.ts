import { defaultLimits } from "../core/limits";
import type { RunContext } from "../core/query/vocabulary";

/** What a verb is run with where nobody reads its warnings and nobody stops it. */
export function quietContext(seed: number): RunContext {
  return { limits: defaultLimits, units: "yd-mph", margins: {}, seed, warn: () => undefined, checkpoint: () => undefined };
}
