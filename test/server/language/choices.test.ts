import { expect, test } from "vitest";
import { choicesRequest, type ChoicesAnswer } from "../../../server/language/requests";
import { startClient } from "../../support/language-client";

const front = ["fairstrike-front", "shots: s/one.session.yaml\nchoose:\n  head: { of: head, is: Wren }\n  window: { of: carry, from: 150 yd }\n  what: { among: [carry, offline], is: carry }"] as const;

test("what choices can be is answered from what the sessions hold", async () => {
  const client = await startClient();
  const [uri] = await client.openNotebook([front]);
  const { choices } = await client.connection.sendRequest<ChoicesAnswer>(choicesRequest, { uri });
  expect(choices).toEqual([
    { name: "head", values: ["Heron", "Wren"], range: null, unit: null },
    { name: "window", values: null, range: { low: 149, high: 161 }, unit: "yd" },
    { name: "what", values: ["carry", "offline"], range: null, unit: null },
  ]);
});

/** The labels completed at the end of a cell's text. */
async function checkCompletion(text: string, labels: readonly string[]): Promise<void> {
  const client = await startClient();
  const [, uri] = await client.openNotebook([front, ["fairstrike-query", `query=a\n${text}`]]);
  const answer = await client.connection.sendRequest<{ items: readonly { label: string }[] } | readonly { label: string }[]>("textDocument/completion", { textDocument: { uri }, position: { line: 1, character: text.length } });
  const items = "items" in answer ? answer.items : answer;
  expect(items.map(({ label }) => label)).toEqual(labels);
}

test("the names of choices complete where they can stand", async () => {
  await checkCompletion('shots.choose("', ["head", "window"]);
  await checkCompletion("shots.describe({ of: chosen.", ["what"]);
});
