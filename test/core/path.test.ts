import * as fc from "fast-check";
import { expect, test } from "vitest";
import { checkPath, folderOf, resolvePath } from "../../core/path";
import type { ProblemCode } from "../../core/problem";

function checkAccepted(text: string, path = text): void {
  expect(checkPath(text)).toEqual({ value: path, problems: [] });
}

function checkRefused(text: string, code: ProblemCode, folder = ""): void {
  const { value, problems } = resolvePath(folder, text);
  expect([value, problems.map((p) => p.code)]).toEqual([null, [code]]);
}

function checkResolved(folder: string, text: string, path: string): void {
  expect(resolvePath(folder, text)).toEqual({ value: path, problems: [] });
}

test("plain relative paths are accepted", () => {
  checkAccepted("spring.csv");
  checkAccepted("data/2026/spring.csv");
  checkAccepted("../data/spring.csv");
  checkAccepted("./spring.csv", "spring.csv");
  checkAccepted(".", "");
  checkAccepted("..");
  checkAccepted(".hidden/..x/a..b");
});
test.each(["../../etc/passwd", "..\\..\\x", "a/../../x", "%2e%2e/", "..%2f", "%2E%2e%5Cx", "%252e%252e/x", "....//", "..\\../x", "a\\..\\../x"])(
  "P-01 %s leads outside",
  (text) => checkRefused(text, "path.outside-root"),
);
test("P-01 the message shows only the given text", () => {
  const [found] = resolvePath("secret/folder", "../../../x").problems;
  expect(found!.message).toContain('"../../../x"');
  expect(found!.message + found!.hint).not.toContain("secret");
});
test.each([
  "/etc/passwd",
  "C:\\x",
  "c:/x",
  "C:x",
  "\\\\server\\share",
  "//host/x",
  "~/.ssh/id",
  "~x/y",
  "$HOME/x",
  "file:///x",
  "http://host/x",
  "vscode-vfs://github/x",
  "data:text/csv,a",
  "untitled:x",
  "\\x",
])("P-02 %s is not relative", (text) => checkRefused(text, "path.absolute"));
test.each(["CON", "nul.csv", "data/COM1", "lpt9.txt", "com\u00b9", "aux .csv", "CONIN$", "x.csv:stream", "a./b", "a /b", "b.csv.", "b.csv ", "PROGRA~1", "SPRING~2.CSV"])(
  "P-06 %j cannot be opened everywhere",
  (text) => checkRefused(text, "path.reserved-name"),
);
test("P-06 names that only look like devices are accepted", () => {
  checkAccepted("console.csv");
  checkAccepted("com10.csv");
  checkAccepted("my~notes.csv");
});
test("P-08 emoji, spaces, #, ?, % and accents in both forms are kept as they are", () => {
  checkAccepted("été 1 #2 ?3 100%.csv");
  checkAccepted("e\u0301te\u0301.csv");
  checkAccepted("👩‍🔧/🏌.csv");
  checkAccepted("a%20b%2Ec.csv");
  checkAccepted("Spring.CSV");
});
test.each(["a\0b", "a\nb", "a\rb", "a\u007fb", "a\u0085b", "a\u202eb", "a\ud800b", "*.csv", "a|b", "a<b", 'a"b'])("P-12 %j has a character that is refused", (text) =>
  checkRefused(text, "path.character"),
);
test("an empty path and a very long one are refused", () => {
  checkRefused("", "path.empty");
  checkRefused("a".repeat(1001), "path.too-long");
  checkRefused("%25".repeat(300_000), "path.too-long");
});
test("a backslash is refused and the hint has the path with slashes", () => {
  checkRefused("data\\spring.csv", "path.backslash");
  expect(checkPath("data\\spring.csv").problems[0]!.hint).toContain('"data/spring.csv"');
});
test.each([
  ["data//spring.csv", "data/spring.csv"],
  ["data/./spring.csv", "data/spring.csv"],
  ["data/x/../spring.csv", "data/spring.csv"],
  ["data/", "data"],
  ["././x", "x"],
])("%s takes a detour", (text, instead) => {
  checkRefused(text, "path.segment");
  expect(checkPath(text).problems[0]!.hint).toContain(`"${instead}"`);
});

test("paths are resolved against the folder of their file", () => {
  checkResolved("", "a/b.csv", "a/b.csv");
  checkResolved("notebooks", "../data/spring.csv", "data/spring.csv");
  checkResolved("a/b", "../../c.csv", "c.csv");
  checkResolved("a/b", "./c.csv", "a/b/c.csv");
  checkResolved("a", "..", "");
  checkResolved("a", ".", "a");
});
test("a path may climb to the root and no farther", () => {
  checkResolved("a/b", "../../x", "x");
  checkRefused("../../../x", "path.outside-root", "a/b");
});
test("the folder of a file", () => {
  expect(folderOf("a/b/c.md")).toBe("a/b");
  expect(folderOf("c.md")).toBe("");
});

test("whatever is accepted stays inside the root", () => {
  const piece = fc.constantFrom("..", ".", "/", "\\", "a", "%2e", "%2f", "%5c", "%25", "~", ":", "...", " ", "con", "\0");
  const folder = fc.constantFrom("", "a", "a/b");
  fc.assert(
    fc.property(folder, fc.array(piece, { maxLength: 10 }), (from, pieces) => {
      const { value } = resolvePath(from, pieces.join(""));
      if (value === null) return;
      expect(value.split("/")).not.toContain("..");
      expect(value).not.toMatch(/^\/|\\|:|\0/);
      if (value !== "") expect(checkPath(value)).toEqual({ value, problems: [] });
    }),
    { seed: 7, numRuns: 3000 },
  );
});
