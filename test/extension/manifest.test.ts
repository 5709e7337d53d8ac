import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";

interface Manifest {
  readonly contributes: {
    readonly notebooks: readonly { readonly type: string; readonly selector: readonly { readonly filenamePattern: string }[] }[];
    readonly languages: readonly { readonly id: string }[];
    readonly grammars: readonly { readonly language: string; readonly path: string }[];
    readonly commands: readonly { readonly command: string; readonly category: string }[];
  };
}

const root = path.join(import.meta.dirname, "../..");
const { contributes } = JSON.parse(readFileSync(path.join(root, "package.json"), "utf8")) as Manifest;

test("the manifest names the notebook type and the languages that the code uses", () => {
  expect(contributes.notebooks.map(({ type, selector }) => [type, ...selector.map((each) => each.filenamePattern)])).toEqual([[notebookType, "*.shots.md"]]);
  const own = Object.values(languageOfKind).filter((language) => language !== languageOfKind.prose);
  expect(contributes.languages.map(({ id }) => id).sort()).toEqual([...own].sort());
  expect(contributes.grammars.map(({ language }) => language).sort()).toEqual([...own].sort());
});

test("every grammar is JSON, and every command has the one category", () => {
  for (const grammar of contributes.grammars) expect(() => JSON.parse(readFileSync(path.join(root, grammar.path), "utf8")) as unknown).not.toThrow();
  expect(new Set(contributes.commands.map(({ category }) => category))).toEqual(new Set(["Fairstrike"]));
});
