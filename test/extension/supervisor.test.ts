import { expect, test } from "vitest";
import { createSupervisor, type Launched, type Supervisor } from "../../extension/host/supervisor";

/** A supervisor of servers that do as a test says, on a clock that the test moves. */
interface Scene {
  readonly supervisor: Supervisor;
  /** What happened, in order. */
  readonly told: string[];
  /** What went wrong, in order. */
  readonly faults: unknown[];
  /** Ends the server that was launched last. */
  readonly crash: () => void;
  /** Lets time pass and whatever is due happen. */
  readonly pass: (milliseconds: number) => Promise<void>;
}

function makeScene(
  ready: () => Promise<void> = () => Promise.resolve(),
  stopped: () => Promise<void> = () => Promise.resolve(),
  launching: (crash: () => void) => void = () => undefined,
): Scene {
  const told: string[] = [];
  const faults: unknown[] = [];
  let time = 0;
  let due: { readonly at: number; readonly action: () => void }[] = [];
  let crash = (): void => undefined;
  let launches = 0;
  const supervisor = createSupervisor({
    launch: (onLost): Launched => {
      const number = ++launches;
      told.push(`launch at ${time}`);
      crash = onLost;
      launching(onLost);
      return {
        ready: ready(),
        stop: () => {
          told.push(`stop ${number}`);
          return stopped();
        },
      };
    },
    onGivenUp: () => told.push("given up"),
    onFault: (fault) => faults.push(fault),
    now: () => time,
    later: (milliseconds, action) => {
      const entry = { at: time + milliseconds, action };
      due.push(entry);
      return () => void (due = due.filter((each) => each !== entry));
    },
  });
  return {
    supervisor,
    told,
    faults,
    crash: () => crash(),
    pass: async (milliseconds) => {
      time += milliseconds;
      const now = due.filter((entry) => entry.at <= time);
      due = due.filter((entry) => entry.at > time);
      for (const { action } of now) action();
      await new Promise(setImmediate);
    },
  };
}

const fiveLaunches = ["launch at 0", "launch at 0", "launch at 1000", "launch at 3000", "launch at 7000", "given up"];

function withoutStops(told: readonly string[]): readonly string[] {
  return told.filter((each) => !each.startsWith("stop"));
}

test("L-12 five crashes within three minutes: four new starts with growing pauses, one message, and then nothing until it is asked for", async () => {
  const { supervisor, told, crash, pass } = makeScene();
  await supervisor.start();
  for (const pause of [0, 1000, 2000, 4000]) {
    crash();
    if (pause > 0) await pass(pause - 1);
    await pass(pause > 0 ? 1 : 0);
  }
  crash();
  await pass(3_600_000);
  expect(withoutStops(told)).toEqual(fiveLaunches);
  await supervisor.start();
  crash();
  await pass(0);
  expect(withoutStops(told).slice(6)).toEqual(["launch at 3607000", "launch at 3607000"]);
});

test("L-12 one crash that is told twice counts once", async () => {
  const { supervisor, told, crash, pass } = makeScene(() => Promise.reject(new Error("not ready")));
  await supervisor.start();
  crash();
  await pass(0);
  await pass(999);
  expect(withoutStops(told)).toEqual(["launch at 0", "launch at 0"]);
  await pass(1);
  expect(withoutStops(told)).toEqual(["launch at 0", "launch at 0", "launch at 1000"]);
});

test("a server that never comes up is tried as often as one that crashes", async () => {
  const { supervisor, told, pass } = makeScene(() => Promise.reject(new Error("never")));
  await supervisor.start();
  for (const pause of [0, 1000, 2000, 4000, 8000]) await pass(pause);
  expect(withoutStops(told)).toEqual(fiveLaunches);
});

test("L-12 a server that cannot even be launched is tried as often, with the same pauses", async () => {
  const { supervisor, told, pass } = makeScene(() => {
    throw new Error("no such program");
  });
  await supervisor.start();
  for (const pause of [0, 1000, 2000, 4000, 8000]) await pass(pause);
  expect(told).toEqual(fiveLaunches);
});

test("L-12 each life that failed is stopped, once, so that no process of it is left", async () => {
  for (const ready of [() => Promise.resolve(), () => Promise.reject(new Error("not ready"))]) {
    const { supervisor, told, crash, pass } = makeScene(ready, () => Promise.reject(new Error("gone already")));
    await supervisor.start();
    crash();
    await pass(0);
    expect(told.slice(0, 3)).toEqual(["launch at 0", "stop 1", "launch at 0"]);
  }
});

test("a server that ends while it is being launched is stopped and tried again", async () => {
  const { supervisor, told, pass } = makeScene(() => Promise.resolve(), undefined, (crash) => crash());
  await supervisor.start();
  await pass(0);
  expect(told).toEqual(["launch at 0", "stop 1", "launch at 0", "stop 2"]);
});

test("a server that was stopped is not started again, nor what was about to be", async () => {
  const { supervisor, told, crash, pass } = makeScene();
  await supervisor.start();
  crash();
  await supervisor.stop();
  await pass(60_000);
  expect(told).toEqual(["launch at 0", "stop 1"]);
  await supervisor.start();
  await supervisor.stop();
  crash();
  await pass(60_000);
  expect(told).toEqual(["launch at 0", "stop 1", "launch at 60000", "stop 2"]);
});

test("asking twice gives one server, and one that cannot be stopped is no obstacle", async () => {
  const { supervisor, told } = makeScene(undefined, () => Promise.reject(new Error("cannot be stopped")));
  await supervisor.start();
  await Promise.all([supervisor.start(), supervisor.start()]);
  expect(told).toEqual(["launch at 0", "stop 1", "launch at 0"]);
});

test("why a server could not be launched, made ready or stopped is told, once", async () => {
  const fail = (words: string) => (): never => {
    throw new Error(words);
  };
  const rejected = (words: string) => () => Promise.reject<void>(new Error(words));
  for (const scene of [makeScene(fail("launch")), makeScene(undefined, undefined, fail("launch"))]) {
    await scene.supervisor.start();
    expect(scene.faults).toEqual([new Error("launch")]);
  }
  const { supervisor, faults, pass } = makeScene(rejected("ready"), rejected("stop"));
  await supervisor.start();
  await new Promise(setImmediate);
  expect(faults).toEqual([new Error("ready"), new Error("stop")]);
  await supervisor.stop();
  await pass(60_000);
  expect(faults).toHaveLength(2);
});
