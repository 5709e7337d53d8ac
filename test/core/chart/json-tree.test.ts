import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { JsonNode } from "../../../core/chart/json-tree";
import { readJson } from "../../../core/chart/json-tree";

function plain(node: JsonNode): unknown {
  switch (node.kind) {
    case "object":
      return Object.fromEntries(node.entries.map((entry) => [entry.key, plain(entry.value)]));
    case "list":
      return node.items.map(plain);
    case "null":
      return null;
    default:
      return node.value;
  }
}

function checkFault(text: string, found: string, mended?: string): void {
  const read = readJson(text, 0, 50);
  if (!("fault" in read)) throw new Error(`read: ${text}`);
  const { fault } = read;
  expect(fault.found).toBe(found);
  expect(fault.instead === undefined ? undefined : text.slice(0, fault.from) + fault.instead + text.slice(fault.to)).toBe(mended);
}

test("reads whatever JSON.parse reads, to the same value", () => {
  fc.assert(
    fc.property(fc.json({ maxDepth: 6 }), fc.constantFrom("", "  "), (text, space) => {
      const read = readJson(`${space}${text}${space}`, 0, 50);
      expect("value" in read && plain(read.value)).toEqual(JSON.parse(text));
    }),
    { seed: 11, numRuns: 500 },
  );
});

test("refuses whatever JSON.parse refuses, and never throws", () => {
  fc.assert(
    fc.property(fc.json(), fc.nat(), fc.constantFrom(",", "'", "}", "[", '"', "\\", "x", "0", "\n", "\u0001", "-", "."), (text, where, extra) => {
      const at = where % (text.length + 1);
      const changed = text.slice(0, at) + extra + text.slice(at);
      const read = readJson(changed, 0, 50);
      let isJson = true;
      try {
        JSON.parse(changed);
      } catch {
        isJson = false;
      }
      expect("value" in read).toBe(isJson);
    }),
    { seed: 12, numRuns: 2000 },
  );
});

test("each value knows its place", () => {
  const text = 'x=1\n{ "a": [1, "b"] }';
  const read = readJson(text, 4, 9);
  const root = "value" in read ? read.value : undefined;
  expect(root?.kind === "object" && text.slice(root.entries[0]!.keySpan.from, root.entries[0]!.keySpan.to)).toBe('"a"');
  const items = root?.kind === "object" && root.entries[0]!.value.kind === "list" ? root.entries[0]!.value.items : [];
  expect(items.map((item) => text.slice(item.from, item.to))).toEqual(["1", '"b"']);
});

test("faults that have one cure come with it", () => {
  checkFault('{"a": 1,}', "a comma before the closing bracket", '{"a": 1}');
  checkFault("{'a': 1}", "a quote '", '{"a": 1}');
  checkFault('{"a": \u201cb\u201d}', "a quote \u201c", '{"a": "b"}');
  checkFault("{a: 1}", "the key a without quotes", '{"a": 1}');
  checkFault('{"a" 1}', "no colon", '{"a": 1}');
  checkFault('{"a": 1 "b": 2}', "no comma", '{"a": 1, "b": 2}');
  checkFault('{"a": 1} // why', "a comment", '{"a": 1} ');
  checkFault('{"a": 1', "the end of the text");
  checkFault('{"a": undefined}', '"undefined"');
  checkFault('{"a": NaN}', '"NaN"');
  checkFault('{"a": 1} x', "more text after the end");
  checkFault('{"a": "b}', "text without a closing quote");
  checkFault("", "the end of the text");
});

test("K-17 deep nesting is a fault and no overflow", () => {
  const read = readJson("[".repeat(100_000), 0, 100);
  expect("fault" in read && read.fault.kind).toBe("depth");
});
