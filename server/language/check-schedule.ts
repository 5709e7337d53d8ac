import { isOutdated } from "./checked-documents";
import type { ProblemsByFile } from "./diagnoser";
import type { Publisher } from "./publisher";

/** Time after the last change before a document is checked again. */
const pauseMilliseconds = 150;

/** Finds the problems of a document as it is now; `null` where it has none of its own. */
export type FindProblems = () => Promise<ProblemsByFile | null>;

/** When a document is checked. */
export interface CheckTimes {
  /** Milliseconds to wait first. */
  readonly pause?: number | undefined;
  /** Says what can be said after the pause without waiting for anything. */
  readonly sayFirst?: () => void;
}

/** Checks documents some time after they changed, and publishes what is found; documents are known by their owner's name. */
export interface CheckSchedule {
  /** Checks a document after a pause; a newer change makes an answer that is under way worthless. */
  readonly checkSoon: (owner: string, find: FindProblems, times?: CheckTimes) => void;
  /** Takes back all that was said of a document and of the files that it alone names. */
  readonly forget: (owner: string) => void;
  /** Finds the problems of one document now. */
  readonly findNow: (owner: string) => Promise<ProblemsByFile | null>;
}

/**
 * Returns a schedule in which nothing is due.
 *
 * @param onFault what to do with an error of a check that is no problem of a document.
 */
export function createCheckSchedule(publisher: Publisher, onFault: (error: unknown) => void): CheckSchedule {
  const timers = new Map<string, NodeJS.Timeout>();
  const finders = new Map<string, FindProblems>();
  /** The change after which each document is checked; changes are counted through all documents. */
  const versions = new Map<string, number>();
  let changes = 0;

  return {
    checkSoon: (owner, find, { pause = pauseMilliseconds, sayFirst } = {}) => {
      const version = ++changes;
      const run = async (): Promise<void> => {
        timers.delete(owner);
        sayFirst?.();
        const found = await find();
        if (versions.get(owner) === version) publisher.replace(owner, found ?? new Map());
      };
      versions.set(owner, version);
      finders.set(owner, find);
      clearTimeout(timers.get(owner));
      timers.set(owner, setTimeout(() => void run().catch((error: unknown) => (isOutdated(error) ? undefined : onFault(error))), pause));
    },
    forget: (owner) => {
      versions.delete(owner);
      finders.delete(owner);
      clearTimeout(timers.get(owner));
      timers.delete(owner);
      publisher.replace(owner, new Map());
    },
    findNow: (owner) => finders.get(owner)?.() ?? Promise.resolve(null),
  };
}
