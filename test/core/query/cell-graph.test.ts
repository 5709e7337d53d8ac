import { expect, test } from "vitest";
import * as fc from "fast-check";
import { orderCells, type GraphCell } from "../../../core/query/cell-graph";
import { textStart } from "../../../core/text-position";

/** Cells written as `name: needed needed`, one each. */
function cells(...lines: string[]): GraphCell[] {
  return lines.map((line) => {
    const [name, ...needs] = line.split(/[:\s]+/).filter((word) => word !== "");
    return { name: name!, nameRange: textStart, references: needs.map((need) => ({ name: need, range: textStart })) };
  });
}

function checkOrder(lines: string[], expected: string): void {
  const graph = cells(...lines);
  expect(orderCells(graph).order.map((index) => graph[index]!.name).join(" ")).toBe(expected);
}

test("cells run after what they name, otherwise in the order of the page", () => {
  checkOrder(["a", "b", "c"], "a b c");
  checkOrder(["a: c", "b", "c"], "c a b");
  checkOrder(["a: b c", "b: c", "c"], "c b a");
  checkOrder(["a: shots", "b: a a", "c: nothing"], "a b c");
  checkOrder([], "");
});

test("N-14 a cycle is told with its path at each of its cells, and what is not on it still has its place", () => {
  const graph = cells("a: b", "b: c", "c: a", "d: a", "e");
  const { order, problems } = orderCells(graph);
  expect(order.map((index) => graph[index]!.name)).toEqual(["d", "e"]);
  expect(problems.map(({ cell, problem }) => [cell, problem.message])).toEqual([
    [0, "these cells need one another: a → b → c → a"],
    [1, "these cells need one another: b → c → a → b"],
    [2, "these cells need one another: c → a → b → c"],
  ]);
});

test("N-14 a cell that names itself", () => {
  const { order, problems } = orderCells(cells("a: a"));
  expect(order).toEqual([]);
  expect(problems.map(({ problem }) => problem.message)).toEqual(["these cells need one another: a → a"]);
});

test("N-14 two cycles that share a cell are both told", () => {
  const { problems } = orderCells(cells("a: b c", "b: a", "c: a"));
  expect(problems.map(({ cell, problem }) => [cell, problem.code])).toEqual([
    [0, "nb.cycle"],
    [1, "nb.cycle"],
    [2, "nb.cycle"],
    [0, "nb.cycle"],
  ]);
});

test("N-14 chains and cycles of 10 000 cells", () => {
  const chain = Array.from({ length: 10_000 }, (_, index) => (index < 9_999 ? `c${index}: c${index + 1}` : `c${index}`));
  expect(orderCells(cells(...chain)).order[0]).toBe(9_999);
  const { order, problems } = orderCells(cells(...chain.slice(0, -1), "c9999: c0"));
  expect(order).toEqual([]);
  expect(problems).toHaveLength(10_000);
  expect(problems[0]!.problem.message.length).toBeLessThan(200);
});

test("N-13 cells that share a name are told and left out, what needs them keeps its place", () => {
  const { order, problems } = orderCells(cells("a", "b: a", "a", "a"));
  expect(order).toEqual([1]);
  expect(problems.map(({ cell, problem }) => [cell, problem.code])).toEqual([
    [0, "nb.duplicate-name"],
    [2, "nb.duplicate-name"],
    [3, "nb.duplicate-name"],
  ]);
});

test("any graph: the order holds every cell that is in no cycle, once, after what it needs", () => {
  const graph = fc.array(fc.array(fc.nat(11), { maxLength: 3 }), { maxLength: 12 });
  fc.assert(
    fc.property(graph, (needs) => {
      const all = cells(...needs.map((wanted, index) => `c${index}: ${wanted.map((need) => `c${need}`).join(" ")}`));
      const { order, problems } = orderCells(all);
      const cyclic = new Set(problems.map(({ cell }) => cell));
      expect([...order].sort((a, b) => a - b)).toEqual(all.map((_, index) => index).filter((index) => !cyclic.has(index)));
      const reaches = (from: number, to: number, seen = new Set<number>()): boolean =>
        (needs[from] ?? []).some((need) => need === to || (!seen.has(need) && reaches(need, to, seen.add(need))));
      for (const index of all.keys()) expect(cyclic.has(index)).toBe(reaches(index, index));
      for (const [place, index] of order.entries()) {
        for (const need of needs[index]!) if (need < all.length && !cyclic.has(need)) expect(order.indexOf(need)).toBeLessThan(place);
      }
    }),
    { seed: 14 },
  );
});
