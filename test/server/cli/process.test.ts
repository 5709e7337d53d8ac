import { spawn, type ChildProcess } from "node:child_process";
import { readdirSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { bundle } from "../../support/bundle";
import { repository } from "../../support/command-line";
import { notebookText, smallSession } from "../../support/small-session";

const program = await bundle("server/cli/main.ts", "esm");
const clean = notebookText("shots: s/one.session.yaml", "query=a\nshots.filter(d => d.carry > 155)");

/** An export of so many rows that loading and ordering them takes seconds. */
function longExport(): string {
  const lines = ["No,Club,Ball speed,Carry,Side"];
  for (let shot = 1; shot <= 150_000; shot++) lines.push(`${shot},${shot % 2 === 0 ? "Wren" : "Heron"},${100 + ((shot * 7919) % 1000) / 50},${140 + ((shot * 104_729) % 1000) / 40},1`);
  return lines.join("\n");
}

/** A repository whose notebook runs for seconds. */
function longRepository(): string {
  const cells = Array.from({ length: 30 }, (_, i) => `query=c${i}\n${i === 0 ? "shots" : `c${i - 1}`}.orderby("carry", "ball_speed").derive({ x${i}: d => op.abs(d.offline) })`);
  return repository({ "n.shots.md": notebookText("shots: s/long.session.yaml", ...cells), "s/long.session.yaml": smallSession("long", "long.csv"), "s/long.csv": longExport() });
}

function start(folder: string, given: readonly string[], env: NodeJS.ProcessEnv = {}): ChildProcess {
  return spawn(process.execPath, [program, ...given], { cwd: folder, env: { PATH: process.env["PATH"], ...env } });
}

interface Ended {
  readonly code: number | null;
  readonly signal: string | null;
  readonly out: string;
  readonly said: string;
}

function ended(child: ChildProcess): Promise<Ended> {
  let out = "";
  let said = "";
  child.stdout?.on("data", (data: Buffer) => (out += data.toString()));
  child.stderr?.on("data", (data: Buffer) => (said += data.toString()));
  return new Promise((resolve) => child.on("close", (code, signal) => resolve({ code, signal, out, said })));
}

test("M-05 the bytes are the same in another time zone, with another language, and without a home", async () => {
  const folder = repository({ "n.shots.md": clean });
  const first = await ended(start(folder, ["run", "n.shots.md"], { TZ: "America/Los_Angeles", LC_ALL: "C" }));
  const second = await ended(start(folder, ["run", "n.shots.md"], { TZ: "Pacific/Auckland", LC_ALL: "tr_TR.UTF-8", HOME: "/nowhere", NO_COLOR: "1" }));
  expect(first).toMatchObject({ code: 0, out: expect.stringContaining("── a\n") });
  expect(second).toEqual(first);
});

// A shell gives 128 and the signal's number for a process that a signal ended: 130 and 143.
test.each(["SIGINT", "SIGTERM"] as const)("M-03 %s in the middle of a run ends it at once and leaves nothing behind", async (signal) => {
  const folder = longRepository();
  const child = start(folder, ["run", "n.shots.md", "--json", "r.json"]);
  const end = ended(child);
  setTimeout(() => child.kill(signal), 400);
  expect(await end).toEqual({ code: null, signal, out: "", said: "" });
  expect(readdirSync(folder).sort()).toEqual([".git", "n.shots.md", "s"]);
});

test("M-03 a reader that has closed its end of the pipe is nobody's fault", async () => {
  const child = start(repository({ "n.shots.md": clean }), ["run", "n.shots.md"]);
  child.stdout?.destroy();
  expect(await ended(child)).toEqual({ code: 130, signal: null, out: "", said: "" });
});

test("a mistake in the call is told from one in the notebook by the code that the process ends with", async () => {
  const folder = repository({ "n.shots.md": clean.replace("carry", "cary") });
  expect((await ended(start(folder, ["run", "n.shots.md"]))).code).toBe(1);
  expect((await ended(start(folder, ["run", path.join("gone", "n.shots.md")]))).code).toBe(2);
});
