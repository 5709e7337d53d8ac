import { mkdirSync, readFileSync, readdirSync } from "node:fs";
import path from "node:path";
import { afterEach, expect, test, vi } from "vitest";
import { replaceFile } from "../../../server/cli/replace-file";
import { tempFolder } from "../../support/temp-folder";

afterEach(() => vi.restoreAllMocks());

test("a file is put in the place of the old one, and nothing is left beside it", async () => {
  const folder = tempFolder({ "r.json": "old" });
  await replaceFile(path.join(folder, "r.json"), "new");
  expect(readFileSync(path.join(folder, "r.json"), "utf8")).toBe("new");
  expect(readdirSync(folder)).toEqual(["r.json"]);
});

test.each([["SIGINT", 130], ["SIGTERM", 143]] as const)("M-03 told to end by %s while it writes, it leaves the old file and no other, and ends with %i", async (signal, code) => {
  const folder = tempFolder({ "r.json": "old" });
  const exit = vi.spyOn(process, "exit").mockImplementation(() => undefined as never);
  const writing = replaceFile(path.join(folder, "r.json"), "new".repeat(1_000_000));
  const before = process.listenerCount(signal);
  process.emit(signal, signal);
  expect(exit).toHaveBeenCalledWith(code);
  // In a process that goes on, as here alone, the writing comes to its end in one way or the other.
  await writing.catch(() => undefined);
  expect(readdirSync(folder)).toEqual(["r.json"]);
  expect(process.listenerCount(signal)).toBe(before - 1);
});

test("X-06 what cannot be written leaves no draft", async () => {
  const folder = tempFolder();
  mkdirSync(path.join(folder, "r.json"));
  await expect(replaceFile(path.join(folder, "r.json"), "new")).rejects.toThrow(/EISDIR|ENOTEMPTY|EEXIST/u);
  expect(readdirSync(folder)).toEqual(["r.json"]);
});
