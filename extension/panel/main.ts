import { readFormMessage, readFormState, type FormMessage, type FormState, type PageMessage } from "../../core/present/form-message";
import { makeElement } from "../renderer/make-element";
import { makeFinishSection, type FinishSection } from "./finish-section";
import { makePart, type Filling } from "./form-parts";
import { pageStyles } from "./page-styles";

/** What the editor gives the script of a page. */
declare function acquireVsCodeApi(): { readonly postMessage: (message: PageMessage) => void; readonly getState: () => unknown; readonly setState: (state: FormState) => void };

/** Milliseconds without a key before what was filled in is looked at. */
const pause = 150;

const editor = acquireVsCodeApi();
let finish: FinishSection | null = null;
let number = 0;

const sheet = new CSSStyleSheet();
sheet.replaceSync(pageStyles);
document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];

globalThis.addEventListener("message", (event: MessageEvent<unknown>) => {
  const message = readFormMessage(event.data);
  if (message?.type === "form") showForm(message);
  // An answer to what has been changed since would say what is no longer so.
  if (message?.type === "looked" && message.number === number) finish?.show(message.open, message.result);
  if (message?.type === "failed") fail(message.text);
});
editor.postMessage({ type: "ready" });

function showForm({ of, form, values: given }: Extract<FormMessage, { type: "form" }>): void {
  // What was filled in before the page was hidden is newer than what it was first filled in with.
  const kept = readFormState(editor.getState());
  let values = kept !== null && kept.of.join("\n") === of.join("\n") ? { ...given, ...kept.values } : given;
  let waiting: ReturnType<typeof setTimeout> | undefined;
  const look = (): void => editor.postMessage({ type: "values", number, values });
  const followers: (() => void)[] = [];
  const filling: Filling = {
    follow(tell) {
      followers.push(tell);
      tell();
    },
    valueOf: (id) => values[id] ?? "",
    changed(id, value) {
      values = { ...values, [id]: value };
      editor.setState({ of, values });
      number++;
      finish?.wait();
      for (const tell of followers) tell();
      clearTimeout(waiting);
      waiting = setTimeout(look, pause);
    },
  };
  finish = makeFinishSection(form.finish, filling, () => editor.postMessage({ type: "finish", number, values }));
  const sections = form.sections.map(({ title, parts }) => makeElement("section", "", {}, makeElement("h2", "", {}, title), ...parts.map((part) => makePart(part, filling))));
  document.body.replaceChildren(makeElement("main", "", {}, makeElement("h1", "", {}, form.title), ...sections, finish.element));
  editor.setState({ of, values });
  look();
}

function fail(text: string): void {
  if (finish === null) document.body.replaceChildren(makeElement("main", "", {}, makeElement("p", "error", { attributes: { role: "alert" } }, text)));
  else finish.fail(text);
}
