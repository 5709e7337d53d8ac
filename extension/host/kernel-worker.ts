/** What a worker in which a kernel runs tells. */
export interface KernelWorkerEvents {
  readonly onMessage: (message: unknown) => void;
  /**
   * The worker has ended, in whatever way: nothing comes from it any more.
   *
   * @param fault what happened, in words without paths of this machine.
   * @param isLimit true when it went over a limit that it was given, which another attempt would meet too.
   */
  readonly onLost: (fault: string, isLimit: boolean) => void;
}

/** A worker in which a kernel runs. */
export interface KernelWorker {
  /** @param transfer what of the message is not copied but handed over. */
  readonly post: (message: unknown, transfer?: readonly object[]) => void;
  /** Tells it, in the middle of a computation where that is possible, that the runs up to this number are cancelled. */
  readonly cancelUpTo: (run: number) => void;
  readonly terminate: () => Promise<void>;
}

/** Starts a worker in which a kernel runs. */
export type StartKernelWorker = (events: KernelWorkerEvents) => KernelWorker;
