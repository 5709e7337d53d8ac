import type { ExitCode } from "./exit-codes";

/** What a command needs from the process it runs in. */
export interface Terminal {
  /** The working folder. */
  readonly folder: string;
  /** Characters that go on one line. */
  readonly columns: number;
  /** Machine output: standard output. */
  readonly out: (text: string) => Promise<void>;
  /** Words for people: standard error. */
  readonly say: (text: string) => Promise<void>;
  /** Milliseconds from any fixed moment. */
  readonly clock: () => number;
  /** Told of a fault of the program that was caught and reported, for whoever looks for it. */
  readonly onFault: (fault: unknown) => void;
}

/** A mistake in how a command was called; its message says what would be accepted. */
export class UsageError extends Error {}

/** One command: a line of help, its usage, and what it does. */
export interface Command {
  readonly usage: string;
  readonly help: string;
  readonly run: (given: readonly string[], terminal: Terminal) => Promise<ExitCode>;
}
