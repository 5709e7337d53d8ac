import * as fc from "fast-check";
import { expect, test } from "vitest";
import type { CellKind } from "../../../core/notebook/document";
import { completeNotebook, hoverNotebook } from "../../../server/language/features";
import { atMark, notebookView, smallFront } from "../../support/notebook-view";
import { smallFiles, smallSession } from "../../support/small-session";

const files = { ...smallFiles, "s/two.session.yaml": smallSession("two") };

async function offered(kind: CellKind, marked: string) {
  const { text, offset } = atMark(marked);
  const cells = kind === "front" ? [[kind, text] as const, ["query", "query=stock\nshots"] as const] : [smallFront, ["query", "query=stock\nshots"] as const, [kind, text] as const];
  const view = await notebookView(cells, files);
  const found = await completeNotebook(view, kind === "front" ? 0 : 2, offset);
  return { text, offset, found, labels: found.map((each) => each.label), view };
}

/** The text after the suggestion with this label was taken, its placeholders as they are. */
async function taken(kind: CellKind, marked: string, label: string): Promise<string> {
  const { text, found } = await offered(kind, marked);
  const one = found.find((each) => each.label === label);
  if (one === undefined) throw new Error(`no ${label} among ${found.map((each) => each.label).join(", ")}`);
  const insert = one.isSnippet ? one.insert.replace(/\$\{\d+:([^}]*)\}/gu, "$1").replace(/\$\d+/gu, "") : one.insert;
  return text.slice(0, one.replace.from) + insert + text.slice(one.replace.to);
}

test("L-08 a first line is completed: what it can begin with, what is not there yet, and tables", async () => {
  expect((await offered("query", "¦")).labels).toEqual(expect.arrayContaining(["query=", "chart=", "shots"]));
  expect(await taken("chart", "chart=c tab¦", "table")).toBe("chart=c table=shots");
  expect(await taken("chart", "chart=c table=st¦ description=\"x\"\n{}", "stock")).toBe("chart=c table=stock description=\"x\"\n{}");
  expect(await taken("chart", 'chart=c table="¦"\n{}', "stock")).toBe('chart=c table="stock"\n{}');
  expect((await offered("chart", "chart=c table=stock ¦\n{}")).labels).toEqual(["description"]);
  expect((await offered("query", "query=a ¦\nshots")).labels).toEqual([]);
});

test("the description that a chart would get is offered between its quotes", async () => {
  const { labels } = await offered("chart", 'chart=c table=stock description="¦"\n{ "mark": "point", "encoding": { "x": { "field": "carry" } } }');
  expect(labels).toEqual([expect.stringContaining("carry")]);
});

test("L-08 keys, sessions, units and margins are completed in front matter", async () => {
  expect((await offered("front", "shots: s/one.session.yaml\n¦")).labels).toEqual(["fairstrike", "title", "units", "margin", "choose", "seed"]);
  expect(await taken("front", "un¦", "units")).toBe("units: yd-mph");
  expect(await taken("front", "units: m¦", "m-kmh")).toBe("units: m-kmh");
  expect(await taken("front", "shots: s/o¦", "s/one.session.yaml")).toBe("shots: s/one.session.yaml");
  expect(await taken("front", "shots:\n  - s/one.session.yaml\n  - s/¦", "s/two.session.yaml")).toBe("shots:\n  - s/one.session.yaml\n  - s/two.session.yaml");
  expect(await taken("front", "shots: [s/one.session.yaml, s/¦]", "s/two.session.yaml")).toBe("shots: [s/one.session.yaml, s/two.session.yaml]");
  expect(await taken("front", "margin: { ca¦ }", "carry")).toBe("margin: { carry: 3 yd }");
  expect(await taken("front", "margin: { carry: ¦ }", "3 yd")).toBe("margin: { carry: 3 yd }");
  expect(await taken("front", "margin:\n  carry: ¦", "3 yd")).toBe("margin:\n  carry: 3 yd");
  expect((await offered("front", "title: sho¦")).labels).toEqual([]);
  expect((await offered("front", "# sho¦")).labels).toEqual([]);
});

test("hovering tells what keys, attributes, tables and sessions are", async () => {
  const hover = async (kind: CellKind, marked: string): Promise<string> => {
    const { view, offset } = await offered(kind, marked);
    return hoverNotebook(view, kind === "front" ? 0 : 2, offset)?.markdown ?? "";
  };
  expect(await hover("front", "sh¦ots: s/one.session.yaml")).toContain("session");
  expect(await hover("front", "shots: s/o¦ne.session.yaml")).toContain("12 shots");
  expect(await hover("front", "margin: { car¦ry: 2 yd }")).toContain("3 yd");
  expect(await hover("chart", "chart=c table=sto¦ck description=\"x\"\n{}")).toContain("carry");
  expect(await hover("chart", "chart=c ta¦ble=stock description=\"x\"\n{}")).not.toBe("");
  expect(await hover("front", "title: so¦me")).not.toContain("undefined");
});

test("L-08 any place of any cut first line or front matter has suggestions on one line around the cursor, or none", async () => {
  const texts = [
    ["front", "fairstrike: 1\ntitle: A b\nshots:\n  - s/one.session.yaml\nunits: yd-mph\nmargin: { carry: 3 yd, ball_speed: 1 mph }\nseed: 7"],
    ["chart", 'chart=c table="stock" description="Where \\" it"\n{}'],
    ["query", "query=a extra=\"x y\nshots"],
  ] as const;
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(...texts), fc.nat(), fc.nat(), fc.nat(), async ([kind, whole], a, b, c) => {
      const from = a % (whole.length + 1);
      const text = whole.slice(0, from) + whole.slice(from + (b % 9));
      const offset = c % (text.length + 1);
      const view = await notebookView([smallFront, [kind, text]], files);
      for (const { replace } of await completeNotebook(view, 1, offset)) {
        expect(replace.from <= offset && offset <= replace.to && replace.to <= text.length, JSON.stringify([text, offset, replace])).toBe(true);
        expect(text.slice(replace.from, replace.to)).not.toContain("\n");
      }
      hoverNotebook(view, 1, offset);
    }),
    { seed: 3, numRuns: 200 },
  );
});
