import { problem, type Problem } from "../problem";
import type { TextRange } from "../text-position";
import type { Reference } from "./references";

/** A cell as far as its place in the order of running is concerned. */
export interface GraphCell {
  readonly name: string;
  readonly nameRange: TextRange;
  readonly references: readonly Reference[];
}

/** The order in which cells run, and what keeps some of them out of it. */
export interface CellOrder {
  /**
   * Indexes of the cells, each after those it names; cells that do not depend on one another keep their order on the
   * page. Cells in a cycle and cells that share a name are left out.
   */
  readonly order: readonly number[];
  /** Problems, each in the text of the cell with the given index. */
  readonly problems: readonly { readonly cell: number; readonly problem: Problem }[];
}

/** Names listed of one cycle. */
const mostNames = 12;

/**
 * Puts cells in the order of running. Names that are no cell are ignored: checking the cell says what is wrong.
 *
 * No recursion, so that a chain of any length is no deeper than a short one.
 */
export function orderCells(cells: readonly GraphCell[]): CellOrder {
  const byName = new Map<string, number>();
  const problems: { cell: number; problem: Problem }[] = [];
  const shared = new Set<number>();
  for (const [index, { name, nameRange }] of cells.entries()) {
    const first = byName.get(name);
    if (first === undefined) byName.set(name, index);
    else {
      if (!shared.has(first)) problems.push({ cell: first, problem: problem("nb.duplicate-name", { name }, cells[first]!.nameRange) });
      problems.push({ cell: index, problem: problem("nb.duplicate-name", { name }, nameRange) });
      shared.add(first).add(index);
    }
  }
  const needs = cells.map((cell, index) =>
    shared.has(index) ? [] : [...new Set(cell.references.map(({ name }) => byName.get(name)))].filter((need) => need !== undefined),
  );
  const cyclic = new Set<number>();
  for (const cycle of findCycles(needs)) {
    const names = cycle.map((index) => cells[index]!.name);
    for (const [turn, index] of cycle.entries()) {
      cyclic.add(index);
      const path = pathFrom(turn, names);
      const use = cells[index]!.references.find((reference) => reference.name === path[1]);
      problems.push({ cell: index, problem: problem("nb.cycle", { path }, use?.range ?? cells[index]!.nameRange) });
    }
  }
  return { order: runOrder(needs, (index) => !shared.has(index) && !cyclic.has(index)), problems };
}

/** The names of a cycle from one of them on and back to it; the middle of a long one is left out. */
function pathFrom(turn: number, names: readonly string[]): readonly string[] {
  const nameAt = (step: number): string => names[(turn + step) % names.length]!;
  if (names.length <= mostNames) return [...names.map((_, step) => nameAt(step)), nameAt(0)];
  return [...Array.from({ length: mostNames - 1 }, (_, step) => nameAt(step)), "…", nameAt(names.length - 1), nameAt(0)];
}

/** Each set of cells that need one another, as a path through it: every cell of the set is on some such path. */
function findCycles(needs: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const cycles: number[][] = [];
  const onCycle = new Set<number>();
  for (const group of stronglyConnected(needs)) {
    const members = new Set(group);
    for (const start of [...group].sort((a, b) => a - b)) {
      if (onCycle.has(start)) continue;
      const cycle = shortestCycle(start, needs, members);
      if (cycle === null) continue;
      cycles.push(cycle);
      for (const index of cycle) onCycle.add(index);
    }
  }
  return cycles;
}

/** The shortest way from `start` back to itself within `members`, by breadth; `null` when there is none. */
function shortestCycle(start: number, needs: readonly (readonly number[])[], members: ReadonlySet<number>): number[] | null {
  const cameFrom = new Map<number, number>();
  const queue = [start];
  for (const index of queue) {
    for (const need of needs[index]!) {
      if (need === start) {
        const path = [index];
        while (path[0] !== start) path.unshift(cameFrom.get(path[0]!)!);
        return path;
      }
      if (!members.has(need) || cameFrom.has(need)) continue;
      cameFrom.set(need, index);
      queue.push(need);
    }
  }
  return null;
}

/**
 * Groups of cells that can reach one another; a cell by itself is a group only when it names itself.
 *
 * Source: R. E. Tarjan, SIAM J. Comput. 1 (1972) 146, with the recursion kept in a list.
 */
function stronglyConnected(needs: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const groups: number[][] = [];
  const number = new Map<number, number>();
  const low = new Map<number, number>();
  const stack: number[] = [];
  const onStack = new Set<number>();
  for (const root of needs.keys()) {
    if (number.has(root)) continue;
    const work = [{ index: root, next: 0 }];
    while (work.length > 0) {
      const at = work[work.length - 1]!;
      const { index } = at;
      if (at.next === 0) {
        number.set(index, number.size);
        low.set(index, number.get(index)!);
        stack.push(index);
        onStack.add(index);
      }
      const need = needs[index]![at.next];
      if (need !== undefined) {
        at.next++;
        if (!number.has(need)) work.push({ index: need, next: 0 });
        else if (onStack.has(need)) low.set(index, Math.min(low.get(index)!, number.get(need)!));
        continue;
      }
      work.pop();
      const parent = work[work.length - 1];
      if (parent !== undefined) low.set(parent.index, Math.min(low.get(parent.index)!, low.get(index)!));
      if (low.get(index) !== number.get(index)) continue;
      const group: number[] = [];
      let member: number;
      do {
        member = stack.pop()!;
        onStack.delete(member);
        group.push(member);
      } while (member !== index);
      if (group.length > 1 || needs[index]!.includes(index)) groups.push(group);
    }
  }
  return groups;
}

/** The cells that `runs` allows, each after those it needs that are allowed, otherwise in their own order. */
function runOrder(needs: readonly (readonly number[])[], runs: (index: number) => boolean): readonly number[] {
  const order: number[] = [];
  const placed = new Set<number>();
  for (const root of needs.keys()) {
    if (!runs(root)) continue;
    const work = [root];
    while (work.length > 0) {
      const index = work[work.length - 1]!;
      const waiting = placed.has(index) ? undefined : needs[index]!.find((need) => runs(need) && !placed.has(need));
      if (waiting !== undefined) work.push(waiting);
      else {
        work.pop();
        if (!placed.has(index)) {
          placed.add(index);
          order.push(index);
        }
      }
    }
  }
  return order;
}
