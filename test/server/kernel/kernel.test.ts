import { expect, test, vi } from "vitest";
import { changedSince, type Basis } from "../../../core/basis";
import type { FilePort } from "../../../core/file-port";
import { defaultLimits } from "../../../core/limits";
import { parseNotebook } from "../../../core/notebook/parse-notebook";
import { startKernel, type KernelSettings } from "../../../server/kernel/kernel";
import type { FromKernel, ToKernel } from "../../../server/kernel/messages";
import { memoryFiles } from "../../support/memory-files";
import { withOddVerb } from "../../support/odd-verbs";
import { notebookText, smallFiles } from "../../support/small-session";

const front = "shots: s/one.session.yaml";
const plain = notebookText(front, "query=a\nshots", "query=b\na.count()");

/** A kernel in this thread, with a host that answers from files in memory. */
interface FakeHost {
  readonly said: FromKernel[];
  /** Starts run `run` of the cells with the given numbers. */
  readonly run: (run: number, text: string, only: readonly number[]) => void;
  readonly send: (message: ToKernel) => void;
  /** Cancels every run up to this number. */
  cancelled: number;
  /** Waits until run number `run` has ended, and gives what was said of it in short. */
  readonly ended: (run: number) => Promise<string[]>;
}

function startFake(settings: KernelSettings = {}, files: Required<FilePort> = memoryFiles(smallFiles), onPost: (message: FromKernel, host: FakeHost) => void = () => undefined): FakeHost {
  let receive: (message: ToKernel) => void = () => undefined;
  const ends = new Map<number, () => void>();
  const host: FakeHost = {
    said: [],
    cancelled: 0,
    send: (message) => receive(message),
    run: (run, text, only) => receive({ type: "run", run, path: "n.shots.md", document: parseNotebook(text).value, only }),
    ended: async (run) => {
      if (!host.said.some((message) => isEnd(message, run))) await new Promise<void>((resolve) => ends.set(run, resolve));
      return host.said.flatMap((message) => ("run" in message && message.run === run ? [inShort(message)] : []));
    },
  };
  startKernel(
    {
      clock: () => 0,
      isCancelled: (run) => run <= host.cancelled,
      listen: (to) => (receive = to),
      post: (message) => {
        host.said.push(message);
        onPost(message, host);
        if (message.type === "read") void files.read(message.path).then((read) => receive({ type: "file", request: message.request, read }));
        if (message.type === "list") void files.list(message.path).then((names) => receive({ type: "listing", request: message.request, names }));
        if (message.type === "ask-current")
          void files.isCurrent(message.path, message.digest).then((isCurrent) => receive({ type: "current", request: message.request, isCurrent }));
        if (message.type === "done" || message.type === "fault") ends.get(message.run)?.();
      },
    },
    settings,
  );
  return host;
}

function isEnd(message: FromKernel, run: number): boolean {
  return (message.type === "done" || message.type === "fault") && message.run === run;
}

function inShort(message: Extract<FromKernel, { run: number }>): string {
  switch (message.type) {
    case "started":
      return `started ${message.index}`;
    case "cell":
      return `${message.cell.name} ${message.cell.status}${message.cell.kept ? " kept" : ""}`;
    case "done":
      return message.cancelled ? "cancelled" : "done";
    case "fault":
      return `fault ${message.message}`;
  }
}

test("a run tells of each cell when it starts and when it ends, and then that it is done", async () => {
  const host = startFake();
  host.run(1, plain, [2]);
  expect(await host.ended(1)).toEqual(["started 1", "a ok", "started 2", "b ok", "done"]);
  expect(host.said[0]).toEqual({ type: "ready" });
});

test("the next run computes what changed alone, and asks for files only whether they are current", async () => {
  const host = startFake();
  host.run(1, plain, [2]);
  await host.ended(1);
  host.said.length = 0;
  host.run(2, plain.replace("a.count()", 'a.groupby("head").count()'), [2]);
  expect(await host.ended(2)).toEqual(["a ok kept", "started 2", "b ok", "done"]);
  expect(host.said.filter((message) => "path" in message).map((message) => message.type)).toEqual(["ask-current", "ask-current"]);
});

test("runs are taken one after another", async () => {
  const host = startFake();
  host.run(1, plain, [2]);
  host.run(2, plain.replace("a.count()", "a.count().count()"), [2]);
  await host.ended(2);
  expect(host.said.flatMap((message) => ("run" in message ? [message.run] : []))).toEqual([1, 1, 1, 1, 1, 2, 2, 2, 2]);
});

test("R-08 a result is cut to the rows that are shown, and says how many there are", async () => {
  const host = startFake({ limits: { ...defaultLimits, rowsShown: 5 } });
  host.run(1, plain, [1]);
  await host.ended(1);
  const cell = host.said.find((message) => message.type === "cell")!.cell;
  expect([cell.rowCount, cell.results[0]?.type === "table" && [cell.results[0].rows.length, cell.results[0].row_count]]).toEqual([12, [5, 12]]);
});

test("R-02 a run that is cancelled while it waits reads no file and runs no cell", async () => {
  const host = startFake();
  host.cancelled = 1;
  host.run(1, plain, [2]);
  expect(await host.ended(1)).toEqual(["cancelled"]);
  expect(host.said.map((message) => message.type)).toEqual(["ready", "done"]);
  host.run(2, plain, [2]);
  expect(await host.ended(2)).toEqual(["started 1", "a ok", "started 2", "b ok", "done"]);
});

test("R-02 a run that is cancelled in the middle of a cell ends there; the next one computes what is left", async () => {
  const text = notebookText(front, "query=a\nshots", "query=b\na.odd()");
  let cancelNow: () => void = () => undefined;
  const vocabulary = withOddVerb((context) => {
    cancelNow();
    context.checkpoint();
  });
  const host = startFake({ vocabulary });
  cancelNow = () => (host.cancelled = 1);
  host.run(1, text, [2]);
  expect(await host.ended(1)).toEqual(["started 1", "a ok", "started 2", "cancelled"]);
  cancelNow = () => undefined;
  host.run(2, text, [2]);
  expect(await host.ended(2)).toEqual(["a ok kept", "started 2", "b ok", "done"]);
});

test("problems of sessions and exports come with the end of the run", async () => {
  const host = startFake({}, memoryFiles({ ...smallFiles, "s/small.csv": smallFiles["s/small.csv"]!.replace("150.0", "far") }));
  host.run(1, plain, [1]);
  await host.ended(1);
  expect(host.said.at(-1)).toMatchObject({ type: "done", problems: [{ code: "value.not-a-number", file: "s/small.csv" }] });
});

test("a fault of the program in a cell is that cell's; one outside of all ends the run with a fault", async () => {
  const broken = withOddVerb(() => {
    throw new TypeError("broken");
  });
  const host = startFake({ vocabulary: broken });
  host.run(1, notebookText(front, "query=a\nshots.odd()", "query=b\nshots"), [1, 2]);
  expect(await host.ended(1)).toEqual(["started 1", "a failed", "started 2", "b ok", "done"]);

  const deaf = startFake({}, memoryFiles(smallFiles), (message) => {
    if (message.type === "cell") throw new Error("cannot be cloned");
  });
  deaf.run(1, plain, [2]);
  expect((await deaf.ended(1)).at(-1)).toBe("fault cannot be cloned");
});

test("R-09 answers that nobody asked for, and answers of another sort, do no harm", async () => {
  const host = startFake({}, memoryFiles(smallFiles), (message, { send }) => {
    if (message.type !== "read") return;
    send({ type: "listing", request: message.request, names: [] });
    send({ type: "current", request: 99, isCurrent: true });
  });
  host.run(1, plain, [1]);
  expect(await host.ended(1)).toEqual(["started 1", "a blocked", "done"]);
});

test("what a result was computed from tells which text or file has changed since", async () => {
  const files = memoryFiles(smallFiles);
  const host = startFake({}, files);
  const look = async (text: string): Promise<readonly Basis[]> => {
    host.said.length = 0;
    host.send({ type: "look", look: 1, path: "n.shots.md", document: parseNotebook(text).value });
    await vi.waitFor(() => expect(host.said.some((message) => message.type === "looked")).toBe(true));
    const answer = host.said.find((message) => message.type === "looked")!;
    return answer.type === "looked" ? (answer.cells ?? []) : [];
  };
  host.run(1, plain, [2]);
  await host.ended(1);
  const ran = host.said.flatMap((message) => (message.type === "cell" ? [message.cell.basis] : []));
  const same = await look(plain);
  expect(ran.map((basis, i) => changedSince(basis, same[i + 1]!))).toEqual([[], []]);
  const edited = await look(plain.replace("query=a\nshots", "query=a\nshots.slice(0, 3)"));
  expect(ran.map((basis, i) => changedSince(basis, edited[i + 1]!))).toEqual([["the text of a"], ["the text of a"]]);
  files.put("s/one.session.yaml", `${smallFiles["s/one.session.yaml"]}set_aside:\n  - { shot: 4, column: carry, because: a bird }\n`);
  const aside = await look(plain);
  expect(ran.map((basis, i) => changedSince(basis, aside[i + 1]!))).toEqual([["s/one.session.yaml"], ["s/one.session.yaml"]]);
});
