import { expect, test } from "vitest";
import { markNames, transforms, typeNames, viewProperties } from "../../../core/chart/accepted-spec";
import { aggregateNames, windowNames } from "../../../core/chart/aggregates";
import type { Properties, Shape } from "../../../core/chart/shape";
import { laidOpen } from "../../../core/chart/shape-at";
import { keyHelp, valueHelp } from "../../../core/chart/spec-help";
import { defaultLimits } from "../../../core/limits";

/** Every key that is accepted anywhere, after the key that it stands in. */
function acceptedKeys(): ReadonlySet<string> {
  const found = new Set<string>();
  const visit = (shape: Shape, within: string, level: number): void => {
    if (level === 0) return;
    for (const each of laidOpen(shape)) {
      if (each.is === "list") visit(each.of, within, level - 1);
      if (each.is === "object") visitAll(each.of, within, level);
    }
  };
  const visitAll = (properties: Properties, within: string, level: number): void => {
    for (const [key, shape] of Object.entries(properties)) {
      const isNew = !found.has(`${within}.${key}`);
      found.add(`${within}.${key}`);
      if (isNew) visit(shape, key, level - 1);
    }
  };
  visitAll(viewProperties(defaultLimits), "", 12);
  for (const properties of Object.values(transforms)) visitAll(properties, "transform", 12);
  return found;
}

const sentence = /^[A-Z0-9].*\.$/u;

test("every key that is accepted has a sentence", () => {
  const keys = acceptedKeys();
  expect(keys.size).toBeGreaterThan(300);
  const without = [...keys].filter((each) => !sentence.test(keyHelp(each.split(".")[1]!, each.split(".")[0]!) ?? ""));
  expect(without).toEqual([]);
});
test("every mark, type and operation has a sentence", () => {
  for (const mark of markNames) expect(valueHelp(mark, "mark"), mark).toMatch(sentence);
  for (const type of typeNames) expect(valueHelp(type, "type"), type).toMatch(sentence);
  for (const name of aggregateNames) expect(valueHelp(name, "aggregate"), name).toMatch(sentence);
  for (const name of windowNames) expect(valueHelp(name, "op"), name).toMatch(sentence);
});
test("a key means what it means where it stands", () => {
  expect(keyHelp("type", "mark")).not.toBe(keyHelp("type", "x"));
  expect(keyHelp("titleAngle", "axis")).toBe("By how many degrees the title is turned.");
  expect(keyHelp("constructor", "")).toBeNull();
  expect(valueHelp("constructor", "mark")).toBeNull();
});
