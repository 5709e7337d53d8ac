import type { Connection } from "vscode-languageserver";
import { foundFor } from "./found-choice";
import { choicesRequest, type ChoicesAnswer, type ChoicesParams } from "./requests";
import { createRequestPlaces, type Documents } from "./request-places";

/** Answers what the choices of a notebook can be: the values and numbers that its tables are known to hold. */
export function answerChoices(connection: Connection, { store, checked }: Documents): void {
  const { placedOf } = createRequestPlaces(store, checked, { waits: true });
  connection.onRequest<ChoicesAnswer, void>(choicesRequest, async ({ uri }: ChoicesParams) => {
    const placed = await placedOf(uri);
    return { choices: placed === null ? [] : placed.view.notebook.front.choices.map((choice) => foundFor(choice, placed.view)) };
  });
}
