import { cpSync, existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { chromium, type Browser, type FrameLocator, type Locator, type Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach } from "vitest";
import { findChromium } from "../../scripts/chromium.mjs";
import { vsix } from "../../scripts/package.mjs";
import { root } from "../../scripts/steps.mjs";
import { serveWorkbench } from "../../scripts/workbench-server.mjs";

/** A running workbench with a folder of its own, in which a test may write. */
export interface Server {
  readonly port: number;
  /** The folder that the workbench has open: a copy of `folder`. */
  readonly folder: string;
  /** The folder in which the workbench keeps documents that are not saved. */
  readonly backups: string;
  readonly log: () => string;
  readonly stop: () => Promise<void>;
}

/** What a workbench is started with. */
export interface ServerOptions {
  /** Settings of the user, added to quiet ones. */
  readonly settings?: Readonly<Record<string, unknown>>;
  /** The folder to copy and open; the samples unless given. */
  readonly sample?: string;
  /** Files to put into the copy before it is opened, text by name: what is written later the explorer may never list. */
  readonly files?: Readonly<Record<string, string>>;
  /** The packed extension; the one that `npm run package` makes unless given. */
  readonly extension?: string;
  /** False leaves workspace trust on, so that the folder is not trusted. */
  readonly trusting?: boolean;
}

const artefacts = path.join(root, "test-artefacts");

/** Starts a workbench with its own user, extensions and copy of the samples; all of it is gone after `stop`. */
export async function startServer(options: ServerOptions = {}): Promise<Server> {
  const extension = options.extension ?? process.env["FAIRSTRIKE_VSIX"] ?? vsix;
  if (!existsSync(extension)) throw new Error(`There is no ${extension}: run \`npm run package\` first.`);
  // Kept short: the server puts a socket into it.
  const data = mkdtempSync(path.join(tmpdir(), "fs-"));
  const folder = path.join(data, "samples");
  cpSync(options.sample ?? path.join(root, "sample-notebooks"), folder, { recursive: true });
  for (const [name, text] of Object.entries(options.files ?? {})) writeFileSync(path.join(folder, name), text);
  const server = await serveWorkbench({
    data,
    folder,
    extensions: [extension],
    trusting: options.trusting ?? true,
    settings: {
      "workbench.reduceMotion": "on",
      "files.autoSave": "off",
      "editor.accessibilitySupport": "off",
      "git.enabled": false,
      "security.workspace.trust.startupPrompt": "never",
      ...options.settings,
    },
  });
  return {
    port: server.port,
    folder,
    backups: path.join(data, "user/User/Backups"),
    log: server.log,
    async stop() {
      await server.stop();
      rmSync(data, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 });
    },
  };
}

/** Starts a browser that can reach this machine and nothing else. */
export function startBrowser(): Promise<Browser> {
  const executablePath = findChromium();
  if (!executablePath) throw new Error("There is no Chromium: install one, or set the variable CHROMIUM to its path.");
  return chromium.launch({
    executablePath,
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1",
    ],
  });
}

/** A window on a workbench, and what its console said. */
export interface Window {
  readonly page: Page;
  readonly console: string[];
}

/** Opens a window on the folder of the server, and gives it once notebooks can be opened in it. */
export async function openWorkbench(browser: Browser, server: Server): Promise<Window> {
  const context = await browser.newContext({ viewport: { width: 1400, height: 1000 } });
  await context.grantPermissions(["clipboard-read", "clipboard-write"], { origin: `http://127.0.0.1:${server.port}` });
  await context.tracing.start({ screenshots: true });
  const page = await context.newPage();
  const said: string[] = [];
  page.on("console", (message) => said.push(`${message.type()}: ${message.text()}`));
  page.on("pageerror", (error) => said.push(`page error: ${error.message}`));
  await page.goto(`http://127.0.0.1:${server.port}/?folder=${encodeURIComponent(server.folder)}`, { waitUntil: "commit" });
  await whenExtensionsRegistered(page);
  return { page, console: said };
}

/**
 * Waits until every extension's contributions are known. A notebook that is opened earlier may open as text, since
 * its type is not known yet.
 */
export async function whenExtensionsRegistered(page: Page): Promise<void> {
  // The workbench leaves this mark; the code runs in the page.
  await page.waitForFunction("performance.getEntriesByName('code/didLoadExtensions').length > 0", null, { timeout: 90_000 });
}

/** Opens a file by a double click in the explorer. */
export async function openFromExplorer(page: Page, name: string): Promise<void> {
  const row = page.locator(".explorer-folders-view .monaco-list-row", { hasText: name });
  await row.waitFor({ timeout: 60_000 });
  await row.dblclick();
}

/** Opens a notebook from the explorer and waits until it is shown as one. */
export async function openNotebook(page: Page, name: string): Promise<void> {
  await whenCellsShow(page, () => openFromExplorer(page, name));
}

/**
 * Opens a notebook and waits for its cells. On a busy machine the window now and then never starts the frame for
 * outputs and holds all cells back until it does; then the window is loaded anew, once.
 */
export async function whenCellsShow(page: Page, open: () => Promise<void>): Promise<void> {
  const cells = page.locator(".notebookOverlay .view-line").first();
  await open();
  const areShown = await cells.waitFor({ timeout: 60_000 }).then(
    () => true,
    () => false,
  );
  if (areShown) return;
  console.warn("The window showed no cells within 60 s: it is loaded anew.");
  await page.reload({ waitUntil: "commit" });
  await whenExtensionsRegistered(page);
  await open();
  await cells.waitFor({ timeout: 60_000 });
}

/**
 * Runs a command by its title in the command palette, such as `File: Save`. The page of the outputs may take the focus
 * back while the palette opens, which closes it: then it is opened again.
 */
export async function command(page: Page, title: string): Promise<void> {
  const row = page.locator(".quick-input-list .monaco-list-row", { hasText: title }).first();
  await until(async () => {
    await page.keyboard.press("F1");
    return quickInput(page)
      .fill(`>${title}`, { timeout: 3000 })
      .then(() => row.waitFor({ timeout: 3000 }))
      .then(
        () => true,
        () => false,
      );
  }, `the command "${title}"`);
  await row.click();
}

/** Chooses a colour theme by its name, and waits until charts are drawn anew in it. */
export async function chooseTheme(page: Page, theme: string): Promise<void> {
  // Away from the page, which takes the focus back while something in it opens.
  await page.locator(".explorer-folders-view .monaco-list").first().focus();
  await command(page, "Preferences: Color Theme");
  await page.locator(".quick-input-widget input[type=text]").fill(theme);
  await page.locator(".quick-input-list .monaco-list-row", { hasText: theme }).first().click();
  await until(async () => !(await page.locator(".quick-input-widget").isVisible()), "the theme is chosen");
  await page.waitForTimeout(700);
}

/** The field of the list that the window asks with. */
export const quickInput = (page: Page): Locator => page.locator(".quick-input-widget .quick-input-box input");

/** The rows of that list. */
export const quickList = (page: Page): Locator => page.locator(".quick-input-widget .quick-input-list .monaco-list-row");

/** The title of that list. */
export const quickTitle = (page: Page): Locator => page.locator(".quick-input-widget .quick-input-title");

/** Waits until that title is one that `text` matches. */
export const titled = (page: Page, text: RegExp): Promise<void> => until(async () => text.test((await quickTitle(page).textContent()) ?? ""), `the title ${text}`);

/** The document that holds every cell output of the one open notebook. */
export function outputs(page: Page): FrameLocator {
  return page.frameLocator("iframe.webview.ready").frameLocator("#active-frame");
}

/** Brings a text of the open notebook into view, as a person would find it. */
export async function find(page: Page, text: string): Promise<void> {
  await page.locator(".notebookOverlay .cell-list-container .monaco-list").first().focus();
  await page.keyboard.press("Control+F");
  const field = page.locator(".notebookOverlay .simple-fr-find-part textarea, .notebookOverlay .simple-fr-find-part input").first();
  await field.waitFor();
  await field.fill(text);
  // Pressed before the matches are known, the key does nothing.
  const found = page.locator(".notebookOverlay .view-line", { hasText: text }).first();
  await until(async () => {
    await page.keyboard.press("Enter");
    return found.isVisible();
  }, `"${text}" in view`);
  await page.keyboard.press("Escape");
}

/** Puts the cursor at the end (or the start) of the first line in view that holds `text`. */
export async function placeCursor(page: Page, text: string, at: "start" | "end" = "end"): Promise<void> {
  await page.locator(".notebookOverlay .code-cell-row .view-line", { hasText: text }).first().click();
  await page.keyboard.press(at === "end" ? "End" : "Home");
}

/** True while the open editor has changes that are not saved. */
export async function isDirty(page: Page): Promise<boolean> {
  return (await page.locator(".tabs-container .tab.active.dirty").count()) > 0;
}

/** Saves the open editor and waits until that is done. */
export async function save(page: Page): Promise<void> {
  await page.keyboard.press("Control+S");
  await until(async () => !(await isDirty(page)), "saved");
}

/** Waits until `holds` gives true, asking ten times a second. */
export async function until(holds: () => boolean | Promise<boolean>, what: string, milliseconds = 20_000): Promise<void> {
  for (let left = milliseconds; left > 0; left -= 100) {
    if (await holds()) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error(`${what}: not within ${milliseconds / 1000} s.`);
}

/** Keeps a picture of the window, or of a part of it in pixels, in `test-artefacts/`. */
export async function keepPicture(page: Page, name: string, clip?: { readonly x: number; readonly y: number; readonly width: number; readonly height: number }): Promise<void> {
  mkdirSync(artefacts, { recursive: true });
  await page.screenshot({ path: path.join(artefacts, `${name}.png`), ...(clip ? { clip } : {}) });
}

/** What the tests of one file share: a server, a browser and a window. */
export interface Shared {
  readonly server: Server;
  readonly browser: Browser;
  readonly window: Window;
  readonly page: Page;
}

/**
 * Gives the tests of one file a workbench that they share, started before the first and stopped after the last one.
 * Of a test that failed, a picture, a trace and what server and window said are kept in `test-artefacts/`.
 */
export function useWorkbench(name: string, options: ServerOptions = {}): Shared {
  let server: Server | undefined;
  let browser: Browser | undefined;
  let window: Window | undefined;
  const there = <T>(value: T | undefined): T => {
    if (value === undefined) throw new Error("The workbench is there only while tests run.");
    return value;
  };
  beforeAll(async () => {
    server = await startServer(options);
    browser = await startBrowser();
    window = await openWorkbench(browser, server);
  });
  beforeEach(async () => {
    await there(window).page.context().tracing.startChunk();
  });
  afterEach(async ({ task }) => {
    const { page, console: said } = there(window);
    if (task.result?.state !== "fail") return page.context().tracing.stopChunk();
    const stem = `FAILED ${name} ${task.name}`.replaceAll(/[^\w -]/g, "_").slice(0, 100);
    await page.context().tracing.stopChunk({ path: path.join(artefacts, `${stem}.trace.zip`) });
    await keepPicture(page, stem);
    writeFileSync(path.join(artefacts, `${stem}.log`), `${said.join("\n")}\n\nServer\n${there(server).log()}`);
  });
  afterAll(async () => {
    await browser?.close();
    await server?.stop();
  });
  return {
    get server() {
      return there(server);
    },
    get browser() {
      return there(browser);
    },
    get window() {
      return there(window);
    },
    get page() {
      return there(window).page;
    },
  };
}
