import { chosenScalar } from "../../core/notebook/choice-edit";
import { choiceKeyHelp } from "../../core/notebook/read-choices";
import { unitLabel } from "../../core/present/format-number";
import { yamlScalar } from "../../core/yaml-scalar";
import type { Suggestion } from "./answers";
import type { FrontPlace } from "./front-place";
import type { NotebookView } from "./notebook-view";
import type { LooseNode } from "./session-text";

type Offer = Omit<Suggestion, "replace">;

/** What can stand in a choice of the front matter: its keys, columns of the shots, and what those hold. */
export function choiceOffersInFront(view: NotebookView, { place: { role, path, around, entry } }: FrontPlace): readonly Offer[] {
  if (path.length < 2) return [];
  const map = around.find((node) => node.kind === "map" && node.entries.some(({ key }) => key.text in choiceKeyHelp));
  const columns = view.sources.shots?.schema?.columns ?? [];
  if (role === "key") {
    const given = map?.kind === "map" ? map.entries.filter((each) => each !== entry).map(({ key }) => key.text) : [];
    return Object.entries(choiceKeyHelp).filter(([key]) => !given.includes(key)).map(([key, detail]): Offer => ({ label: key, kind: "key", insert: entry?.hasColon === true ? key : `${key}: `, detail }));
  }
  if (path[2] === "of") return columns.map(({ name, unit }): Offer => ({ label: name, kind: "column", insert: yamlScalar(name, "flow"), ...(unit === null ? {} : { detail: `in ${unitLabel(unit)}` }) }));
  if (path[2] !== "is") return [];
  const among = valueIn(map, "among");
  if (among?.kind === "list") return among.items.flatMap((item): Offer[] => (item?.kind === "scalar" ? [{ label: item.text, kind: "choice", insert: yamlScalar(item.text, "flow") }] : []));
  const of = valueIn(map, "of");
  const values = columns.find(({ name }) => of?.kind === "scalar" && name === of.text)?.values ?? [];
  const isList = around.at(-1)?.kind === "list";
  const any: Offer = { label: "any", kind: "choice", insert: "any", detail: "every row, one without a value too" };
  return [...(isList ? [] : [any]), ...values.map((value): Offer => ({ label: value, kind: "choice", insert: chosenScalar(value) }))];
}

function valueIn(map: LooseNode | undefined, name: string): LooseNode | null {
  return (map?.kind === "map" ? map.entries.find(({ key }) => key.text === name)?.value : null) ?? null;
}
