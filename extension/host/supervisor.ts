import { afterCrash } from "./restart-policy";

/** A server that was launched. */
export interface Launched {
  /** Settles when it is ready, and is rejected when it cannot be. */
  readonly ready: Promise<void>;
  readonly stop: () => Promise<void>;
}

/** What a supervisor needs of the world. */
export interface Surroundings {
  /** Launches a server; `onLost` is to be called when it ends by itself. One that throws is a server that was lost. */
  readonly launch: (onLost: () => void) => Launched;
  /** Called when the server has crashed too often; it stays down until it is asked for again. */
  readonly onGivenUp: () => void;
  /** Told why a server could not be launched, made ready or stopped. */
  readonly onFault: (fault: unknown) => void;
  /** Milliseconds of a clock that never goes back. */
  readonly now: () => number;
  /** Does something after a time; the answer takes it back. */
  readonly later: (milliseconds: number, action: () => void) => () => void;
}

/** Keeps one server running. */
export interface Supervisor {
  /** Launches the server, ending the one that is there and forgetting its crashes. Never rejected. */
  readonly start: () => Promise<void>;
  /** Ends the server for good, or until `start`. Never rejected. */
  readonly stop: () => Promise<void>;
}

/** Returns a supervisor that has not started anything. A server that is lost is launched anew as `afterCrash` says. */
export function createSupervisor({ launch, onGivenUp, onFault, now, later }: Surroundings): Supervisor {
  let running: Launched | null = null;
  let takeBack: () => void = () => undefined;
  let crashes: readonly number[] = [];
  /** Counts launches and ends, so that whatever is told late of an earlier life of the server is not listened to. */
  let life = 0;

  async function run(): Promise<void> {
    const mine = ++life;
    let launched: Launched | null = null;
    const onLost = (): void => {
      if (life !== mine) return;
      life++;
      running = null;
      void end(launched);
      const { crashes: counted, pause } = afterCrash(crashes, now());
      crashes = counted;
      if (pause === null) onGivenUp();
      else takeBack = later(pause, () => void run());
    };
    try {
      launched = launch(onLost);
    } catch (fault) {
      onFault(fault);
      // What could not even be launched is tried again as what crashed.
      return onLost();
    }
    if (life !== mine) return end(launched);
    running = launched;
    // One crash can be told twice, as an end and as a start that failed.
    await launched.ready.catch((fault: unknown) => {
      if (life === mine) onFault(fault);
      onLost();
    });
  }

  /** Ends a life of the server: also one that failed may have left a process. Never rejected. */
  async function end(launched: Launched | null): Promise<void> {
    try {
      await launched?.stop();
    } catch (fault) {
      // A server that cannot be stopped has ended, or never was.
      onFault(fault);
    }
  }

  async function stop(): Promise<void> {
    life++;
    takeBack();
    const ending = running;
    running = null;
    await end(ending);
  }

  return {
    start: async () => {
      const stopped = stop();
      const mine = life;
      await stopped;
      // Whoever asked again meanwhile is served instead.
      if (life !== mine) return;
      crashes = [];
      await run();
    },
    stop,
  };
}
