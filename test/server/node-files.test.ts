import { execFileSync } from "node:child_process";
import { chmodSync, linkSync, mkdirSync, readFileSync, renameSync, rmSync, symlinkSync, utimesSync, writeFileSync } from "node:fs";
import path from "node:path";
import { expect, onTestFinished, test, vi } from "vitest";
import { nodeFiles } from "../../server/node-files";
import { tempFolder } from "../support/temp-folder";

const most = 1000;

/** A root `in` with some files, beside a folder `out` that nothing may be read from. */
function makeRoot(): string {
  return path.join(tempFolder({ "in/a.csv": "inside", "in/data/b.csv": "below", "out/secret.csv": "secret" }), "in");
}

/** What reading gives: the text, or the reason why there is none. */
async function read(root: string, name: string, mostBytes = most): Promise<string> {
  const found = await nodeFiles(root, mostBytes).read(name);
  return found.ok ? `text ${new TextDecoder().decode(found.bytes)}` : found.reason;
}

/** Makes links in a root, each `name -> target`, and expects these to be what reading gives. */
async function checkLinks(links: Readonly<Record<string, string>>, reads: Readonly<Record<string, string>>): Promise<void> {
  const root = makeRoot();
  for (const [name, target] of Object.entries(links)) symlinkSync(target, path.join(root, name));
  for (const [name, expected] of Object.entries(reads)) expect([name, await read(root, name)]).toEqual([name, expected]);
}

test("a file is read with the SHA-256 digest of its bytes", async () => {
  const found = await nodeFiles(tempFolder({ "a.csv": "abc" }), most).read("a.csv");
  // NIST, "Secure Hash Standard examples", SHA-256 of a one-block message.
  expect(found.ok && found.digest).toBe("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
});

test("P-03 links inside the root are followed, to files, folders and other links", () =>
  checkLinks({ "l.csv": "a.csv", folder: "data", "chain.csv": "l.csv" }, { "l.csv": "text inside", "folder/b.csv": "text below", "chain.csv": "text inside" }));

test("P-03 links that leave the root are refused, however they do it", () =>
  checkLinks(
    { "l.csv": "../out/secret.csv", folder: "../out", "chain.csv": "l.csv", up: "..", "absolute.csv": "/etc/passwd" },
    { "l.csv": "outside", "folder/secret.csv": "outside", "chain.csv": "outside", "up/out/secret.csv": "outside", "absolute.csv": "outside" },
  ));

test("P-03 what is missing behind a link that leaves the root is not told from what is there", () => checkLinks({ folder: "../out" }, { "folder/nothing.csv": "outside", "folder/SECRET.csv": "outside" }));

test("P-03 a link that leads nowhere is missing, and a loop is ended", () =>
  checkLinks({ "dangling.csv": "nothing.csv", "one.csv": "two.csv", "two.csv": "one.csv" }, { "dangling.csv": "missing", "one.csv": "unreadable" }));

test("P-03 the root itself may be a link", async () => {
  const root = makeRoot();
  const link = path.join(path.dirname(root), "link");
  symlinkSync("in", link);
  expect(await read(link, "a.csv")).toBe("text inside");
  expect(await nodeFiles(link, most).list("data")).toEqual(["b.csv"]);
});

test("P-01 even a path that was checked by nobody leads nowhere outside", async () => {
  const root = makeRoot();
  for (const name of ["../out/secret.csv", "data/../../out/secret.csv", "/../out/secret.csv"]) expect(await read(root, name)).toBe("outside");
  expect(await read(root, "a\0.csv")).toBe("unreadable");
  expect(await nodeFiles(root, most).list("..")).toBeNull();
});

test("P-07 only ordinary files are read: no folder, no pipe, no device", async () => {
  const root = makeRoot();
  execFileSync("sh", ["-c", 'mkfifo "$0"', path.join(root, "pipe.csv")]);
  expect([await read(root, "data"), await read(root, "pipe.csv")]).toEqual(["not a file", "not a file"]);
  expect(await read("/dev", "zero")).toBe("not a file");
});

test("P-07 a file may have as many bytes as the limit, or none", async () => {
  const root = tempFolder({ "full.csv": "x".repeat(most), "over.csv": "x".repeat(most + 1), "empty.csv": "" });
  expect(await read(root, "full.csv")).toHaveLength(most + 5);
  expect([await read(root, "over.csv"), await read(root, "empty.csv")]).toEqual(["too large", "text "]);
});

test("P-07 a file that may not be read cannot be read, and a file is no folder", async () => {
  const root = makeRoot();
  chmodSync(path.join(root, "a.csv"), 0);
  // The superuser may read everything.
  expect(await read(root, "a.csv")).toBe(process.getuid?.() === 0 ? "text inside" : "unreadable");
  expect([await read(root, "a.csv/b.csv"), await read(root, "nothing/b.csv")]).toEqual(["missing", "missing"]);
});

test("P-08 a name that differs in case, or in how an accent is written, is said to", async () => {
  const root = tempFolder({ "Data/Été #1 50%.csv": "x" });
  expect(await read(root, "Data/Été #1 50%.csv")).toBe("text x");
  for (const name of ["data/Été #1 50%.csv", "Data/été #1 50%.csv", "Data/E\u0301té #1 50%.csv"]) expect(await read(root, name)).toBe("other case");
  expect(await read(root, "Data/Ete.csv")).toBe("missing");
});

test("P-13 a file with two names is read under both", async () => {
  const root = makeRoot();
  linkSync(path.join(root, "a.csv"), path.join(root, "same.csv"));
  expect([await read(root, "a.csv"), await read(root, "same.csv")]).toEqual(["text inside", "text inside"]);
});

test("a root that is not there has no files, and nothing is rejected", async () => {
  const files = nodeFiles(path.join(makeRoot(), "nowhere"), most);
  expect([await files.read("a.csv"), await files.list(""), await files.isCurrent?.("a.csv", "x")]).toEqual([{ ok: false, reason: "missing" }, null, false]);
});

test("the plain files of a folder are listed by code unit, links among them, folders not", async () => {
  const root = tempFolder({ "b.csv": "", "B.csv": "", "a.csv": "", "sub/c.csv": "" });
  symlinkSync("a.csv", path.join(root, "link.csv"));
  const files = nodeFiles(root, most);
  expect(await files.list("")).toEqual(["B.csv", "a.csv", "b.csv", "link.csv"]);
  expect([await files.list("a.csv"), await files.list("nowhere")]).toEqual([null, null]);
});

test("a file is current until it is written or gone, and one touched just now is never trusted", async () => {
  const root = tempFolder({ "a.csv": "inside" });
  const file = path.join(root, "a.csv");
  const files = nodeFiles(root, most);
  const digestOf = async (): Promise<string> => {
    const found = await files.read("a.csv");
    return found.ok ? found.digest : "";
  };
  // Its times are of this moment: another change could have the same.
  expect(await files.isCurrent?.("a.csv", await digestOf())).toBe(false);
  vi.useFakeTimers({ toFake: ["Date"], now: Date.now() + 10_000 });
  onTestFinished(() => void vi.useRealTimers());
  const digest = await digestOf();
  expect([await files.isCurrent?.("a.csv", digest), await files.isCurrent?.("a.csv", "other")]).toEqual([true, false]);
  // Another port on the same folder knows it as well.
  expect(await nodeFiles(root, most).isCurrent?.("a.csv", digest)).toBe(true);
  writeFileSync(file, "INSIDE");
  expect(await files.isCurrent?.("a.csv", digest)).toBe(false);
  rmSync(file);
  expect(await files.isCurrent?.("a.csv", digest)).toBe(false);
});

test("of many files the last thousand that were read are remembered", async () => {
  const names = Array.from({ length: 1002 }, (_, i) => `${i}.csv`);
  const files = nodeFiles(tempFolder(Object.fromEntries(names.map((name) => [name, name]))), most);
  vi.useFakeTimers({ toFake: ["Date"], now: Date.now() + 10_000 });
  onTestFinished(() => void vi.useRealTimers());
  const digests = new Map<string, string>();
  for (const name of [...names, names[1]!]) {
    const found = await files.read(name);
    if (found.ok) digests.set(name, found.digest);
  }
  const known = await Promise.all(names.map((name) => files.isCurrent!(name, digests.get(name)!)));
  expect([known.filter(Boolean).length, known.slice(0, 4)]).toEqual([1000, [false, true, false, true]]);
});

test("C-30 a file that is replaced between two reads gives the bytes of one of them, whole", async () => {
  const root = tempFolder({ "a.csv": "a".repeat(900), "b.csv": "b".repeat(900) });
  const reading = Promise.all(Array.from({ length: 20 }, () => read(root, "a.csv")));
  renameSync(path.join(root, "b.csv"), path.join(root, "a.csv"));
  for (const text of await reading) expect(["text " + "a".repeat(900), "text " + "b".repeat(900), "changing"]).toContain(text);
});

test("G6 reading changes nothing", async () => {
  const root = makeRoot();
  mkdirSync(path.join(root, "empty"));
  await read(root, "a.csv");
  await nodeFiles(root, most).list("empty");
  expect(readFileSync(path.join(root, "a.csv"), "utf8")).toBe("inside");
});

test("of a file longer than is wanted the beginning is given, with the size of the whole", async () => {
  const files = nodeFiles(tempFolder({ "a.csv": "abcdef" }), most);
  const [part, all] = [await files.read("a.csv", 4), await files.read("a.csv", 6)];
  expect(part.ok && [new TextDecoder().decode(part.bytes), part.size]).toEqual(["abcd", 6]);
  expect(all.ok && [new TextDecoder().decode(all.bytes), all.size]).toEqual(["abcdef", undefined]);
  expect(part.ok && all.ok && part.digest !== all.digest).toBe(true);
});

test("the digest of a part tells a file that grew, or was written to behind the part", async () => {
  const folder = tempFolder({ "a.csv": "abcdef" });
  const file = path.join(folder, "a.csv");
  const digest = async (): Promise<string> => {
    const found = await nodeFiles(folder, most).read("a.csv", 4);
    return found.ok ? found.digest : found.reason;
  };
  utimesSync(file, 1_700_000_000, 1_700_000_000);
  const first = await digest();
  expect(await digest()).toBe(first);
  writeFileSync(file, "abcdefg");
  utimesSync(file, 1_700_000_000, 1_700_000_000);
  const longer = await digest();
  utimesSync(file, 1_700_000_001, 1_700_000_001);
  expect(new Set([first, longer, await digest()]).size).toBe(3);
});

test("a file that is read whole by one and in part by another is current for both", async () => {
  const folder = tempFolder({ "a.csv": "abcdef" });
  // What was changed just now is not trusted; two seconds on it is.
  vi.spyOn(Date, "now").mockReturnValue(Date.now() + 60_000);
  onTestFinished(() => void vi.restoreAllMocks());
  const files = nodeFiles(folder, most);
  const [whole, part] = [await files.read("a.csv"), await files.read("a.csv", 4)];
  for (const read of [whole, part]) expect(read.ok && (await files.isCurrent!("a.csv", read.digest))).toBe(true);
  writeFileSync(path.join(folder, "a.csv"), "abcdefgh");
  for (const read of [whole, part]) expect(read.ok && (await files.isCurrent!("a.csv", read.digest))).toBe(false);
});

test("a part is refused as the whole would be", async () => {
  const found = await nodeFiles(tempFolder({ "a.csv": "abcdef" }), 5).read("a.csv", 2);
  expect(!found.ok && found.reason).toBe("too large");
});
