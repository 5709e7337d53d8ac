import { expect, test } from "vitest";
import type { Diagnostic } from "vscode-languageserver";
import { problem, type Problem } from "../../../core/problem";
import { createPublisher, textOwner } from "../../../server/language/publisher";
import { toDiagnostic } from "../../../server/language/to-protocol";

function blocked(name: string, line = 1): Problem {
  return problem("run.blocked", { name }, { start: { line, column: 1 }, end: { line, column: 2 } });
}

/** What a publisher sends for each step of `[owner, problems by document]`, as `document: names`. */
function sentFor(steps: readonly (readonly [owner: string, problems: Readonly<Record<string, readonly Problem[]>>])[]): string[][] {
  let sent: string[] = [];
  const nameIn = (diagnostic: Diagnostic): string | undefined => (typeof diagnostic.message === "string" ? /"(.*?)"/u.exec(diagnostic.message)?.[1] : undefined);
  const publisher = createPublisher((uri, diagnostics) => sent.push(`${uri}: ${diagnostics.map(nameIn).join(" ")}`), () => undefined);
  return steps.map(([owner, problems]) => {
    sent = [];
    publisher.replace(owner, new Map(Object.entries(problems)));
    return sent;
  });
}

test("only what is new is sent, and what is no longer so is taken back", () => {
  const sent = sentFor([
    ["n", { a: [blocked("x")], b: [] }],
    ["n", { a: [blocked("x")], b: [blocked("y")] }],
    ["n", { b: [blocked("y")] }],
    ["n", {}],
    ["n", {}],
  ]);
  expect(sent).toEqual([["a: x"], ["b: y"], ["a: "], ["b: "], []]);
});

test("of a document that is open each version is sent once, without problems too, and is not sent again when it is closed", () => {
  const sent: string[] = [];
  let version: number | undefined = 1;
  const publisher = createPublisher((uri, diagnostics, of) => sent.push(`${uri}@${of}: ${diagnostics.length}`), () => version);
  const none = new Map([["a", []]]);
  publisher.replace("n", none);
  publisher.replace("n", none);
  version = 2;
  publisher.replace("n", none);
  version = undefined;
  publisher.replace("n", new Map());
  expect(sent).toEqual(["a@1: 0", "a@2: 0"]);
});

test("what two documents find in one file is said once, and stays while one of them still finds it", () => {
  const sent = sentFor([
    ["n", { s: [blocked("x"), blocked("y")] }],
    ["m", { s: [blocked("x")] }],
    ["m", { s: [blocked("x"), blocked("z")] }],
    ["n", {}],
    ["m", {}],
  ]);
  expect(sent).toEqual([["s: x y"], [], ["s: x y z"], ["s: x z"], ["s: "]]);
});

test("a document that is open as text alone says what is wrong in it, for as long as it is open", () => {
  const sent = sentFor([
    ["n", { s: [blocked("old")] }],
    [textOwner("s"), { s: [blocked("new")] }],
    ["n", { s: [blocked("old"), blocked("other")] }],
    [textOwner("s"), {}],
  ]);
  expect(sent).toEqual([["s: old"], ["s: new"], [], ["s: old other"]]);
});

test("a diagnostic has the code, the hint below the message, and places from 0; a long one ends with its first line", () => {
  const [short, long] = [toDiagnostic(blocked("x", 3)), toDiagnostic(problem("run.blocked", { name: "x" }, { start: { line: 2, column: 5 }, end: { line: 9, column: 1 } }))];
  expect(short).toEqual({
    range: { start: { line: 2, character: 0 }, end: { line: 2, character: 1 } },
    severity: 1,
    code: "run.blocked",
    source: "fairstrike",
    message: '"x" has no result, and this needs it\nmend that cell first',
  });
  expect(long.range).toEqual({ start: { line: 1, character: 4 }, end: { line: 1, character: 2 ** 31 - 1 } });
});
