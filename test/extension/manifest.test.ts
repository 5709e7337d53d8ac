import { existsSync, readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { languageOfKind, notebookType } from "../../core/notebook/cell-languages";

interface Item {
  readonly command: string;
  readonly when?: string;
  readonly key?: string;
}

interface Manifest {
  readonly activationEvents: readonly string[];
  readonly contributes: {
    readonly notebooks: readonly { readonly type: string; readonly selector: readonly { readonly filenamePattern: string }[] }[];
    readonly languages: readonly { readonly id: string }[];
    readonly grammars: readonly { readonly language: string; readonly path: string }[];
    readonly commands: readonly { readonly command: string; readonly category: string; readonly title: string; readonly enablement?: string }[];
    readonly keybindings: readonly (Item & { readonly mac: string })[];
    readonly menus: Readonly<Record<string, readonly Item[]>>;
    readonly configuration: { readonly properties: Readonly<Record<string, { readonly markdownDescription?: string; readonly default?: unknown }>> };
    readonly viewsWelcome: readonly { readonly contents: string }[];
    readonly walkthroughs: readonly {
      readonly id: string;
      readonly steps: readonly { readonly id: string; readonly description: string; readonly media: { readonly svg: string; readonly altText: string }; readonly completionEvents: readonly string[] }[];
    }[];
  };
}

const root = path.join(import.meta.dirname, "../..");
const read = (file: string): string => readFileSync(path.join(root, file), "utf8");
const manifest = JSON.parse(read("package.json")) as Manifest;
const { contributes } = manifest;
const contributed = contributes.commands.map(({ command }) => command);
const host = readdirSync(path.join(root, "extension/host")).filter((file) => file.endsWith(".ts")).map((file) => read(`extension/host/${file}`));

/** Commands of the extension's own that are no part of the palette: for status items, lists and steps of the walkthrough. */
const isInner = (command: string): boolean => command === "fairstrike.revealCell" || command.startsWith("fairstrike.step.");

/** The commands that the host registers, by the text that it does so with. */
const registered = host.flatMap((text) =>
  [...text.matchAll(/registerCommand\(\s*(?:"([^"]+)"|(\w+),)/gu)].map(([, named, constant]) => named ?? new RegExp(`const ${constant} = "([^"]+)"`, "u").exec(text)?.[1] ?? `${constant} has no text`),
);
const steps = [...read("extension/host/first-steps.ts").matchAll(/^ {2}(\w+): \(/gmu)].map(([, name]) => `fairstrike.step.${name}`);

/** The commands that a text for people leads to. */
const linked = (text: string): string[] => [...text.matchAll(/\(command:([\w.]+)/gu)].map(([, command]) => command!);

test("the manifest names the notebook type and the languages that the code uses", () => {
  expect(contributes.notebooks.map(({ type, selector }) => [type, ...selector.map((each) => each.filenamePattern)])).toEqual([[notebookType, "*.shots.md"]]);
  const own = Object.values(languageOfKind).filter((language) => language !== languageOfKind.prose);
  expect(contributes.languages.map(({ id }) => id).sort()).toEqual([...own].sort());
  expect(contributes.grammars.map(({ language }) => language).sort()).toEqual([...own].sort());
});

test("every grammar is JSON, and every command has the one category", () => {
  for (const grammar of contributes.grammars) expect(() => JSON.parse(read(grammar.path)) as unknown).not.toThrow();
  expect(new Set(contributes.commands.map(({ category }) => category))).toEqual(new Set(["Fairstrike"]));
});

test("what the manifest offers as a command is registered, and nothing else is", () => {
  expect(registered.filter((command) => !isInner(command)).sort()).toEqual([...contributed].sort());
});

test("menus and keys name commands that there are, each menu once", () => {
  const items = [...Object.values(contributes.menus).flat(), ...contributes.keybindings];
  expect(items.map(({ command }) => command).filter((command) => !contributed.includes(command))).toEqual([]);
  for (const menu of Object.values(contributes.menus)) expect(new Set(menu.map(({ command }) => command)).size).toBe(menu.length);
});

test("a command that needs a notebook is in the palette only beside one", () => {
  const anywhere = ["newNotebook", "newSession", "openSample", "firstSteps", "restartLanguageServer"].map((name) => `fairstrike.${name}`);
  const bound = contributes.menus["commandPalette"]!.filter(({ when }) => /notebookType == fairstrike-notebook|resourceFilename/u.test(when ?? ""));
  expect(contributed.filter((command) => !bound.some((item) => item.command === command)).sort()).toEqual(anywhere.sort());
});

/** What the editor itself does after Ctrl+K: its list of default keys in a browser, and r, which it has on a machine. */
const taken = ["c", "d", "e", "enter", "f", "i", "m", "o", "p", "r", "s", "shift+enter", "shift+o", "t", "u", "v", "w", "y", "z"];

test("keys are a chord of the extension's own, the same on every system", () => {
  for (const { key, mac, when } of contributes.keybindings) {
    expect(key).toMatch(/^ctrl\+k /u);
    expect(taken).not.toContain(key!.slice("ctrl+k ".length));
    expect(mac).toBe(key!.replace("ctrl", "cmd"));
    expect(when).toContain("notebookType == fairstrike-notebook");
  }
});

test("every setting says what it does", () => {
  for (const [name, { markdownDescription, default: usual }] of Object.entries(contributes.configuration.properties)) {
    expect(name).toMatch(/^fairstrike\./u);
    expect(markdownDescription).toMatch(/^[A-Z].*\.$/u);
    expect(usual).toBeDefined();
  }
});

test("each step of the walkthrough has a picture, words for it and a button that does it, after which it is done", () => {
  const [walkthrough] = contributes.walkthroughs;
  expect(read("extension/host/first-steps.ts")).toContain(`"${walkthrough!.id}"`);
  for (const { description, media, completionEvents } of walkthrough!.steps) {
    expect(existsSync(path.join(root, media.svg))).toBe(true);
    expect(read(media.svg)).toMatch(/^<svg [^>]*role="img" aria-label="[^"]+"/u);
    expect(media.altText).not.toBe("");
    expect(completionEvents.some((event) => linked(description).some((command) => event === `onCommand:${command}`))).toBe(true);
  }
});

test("links of walkthrough and empty views lead to commands that there are, and start the extension", () => {
  const links = [...contributes.walkthroughs.flatMap((each) => each.steps.map(({ description }) => description)), ...contributes.viewsWelcome.map(({ contents }) => contents)].flatMap(linked);
  const own = links.filter((command) => command.startsWith("fairstrike."));
  expect(own.filter((command) => !contributed.includes(command) && !steps.includes(command))).toEqual([]);
  expect(steps.filter((command) => !own.includes(command))).toEqual([]);
  expect(steps.filter((command) => !manifest.activationEvents.includes(`onCommand:${command}`))).toEqual([]);
});

test("the samples that are copied are all the samples that there are", () => {
  const listed = [...read("extension/host/sample-notebooks.ts").matchAll(/^ {2}"([^"]+)",$/gmu)].map(([, file]) => file!);
  const there = readdirSync(path.join(root, "sample-notebooks"), { recursive: true, encoding: "utf8" }).map((file) => file.replaceAll(path.sep, "/"));
  expect(["three-irons.shots.md", ...listed].sort()).toEqual(there.filter((file) => /^[^.].*\.\w+$/u.test(file)).sort());
});
