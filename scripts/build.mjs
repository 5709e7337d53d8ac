// Bundles every entry point into `dist/`, with the notices of the packages that went in.
//   node scripts/build.mjs            what is packaged: minified, no source maps
//   node scripts/build.mjs --watch    for working on it: readable, source maps, again on every change
import { existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import { build, context } from "esbuild";
import { root, say, step, whenStarted } from "./steps.mjs";

// One program for Node cannot be CommonJS with these two as Node resolves them: `vega-canvas` awaits at top level,
// and `yaml` asks for `process` dynamically. Their browser builds do neither. `yaml/browser` is not exported, hence
// paths.
const browserBuilds = {
  "vega-canvas": path.join(root, "node_modules/vega-canvas/build/vega-canvas.browser.js"),
  yaml: path.join(root, "node_modules/yaml/browser/index.js"),
};
/** @type {import("esbuild").BuildOptions} */
const commonJs = { platform: "node", format: "cjs", target: "node20", alias: browserBuilds };

/** @type {{ entry: string, to: string, options: import("esbuild").BuildOptions }[]} */
const bundles = [
  { entry: "extension/node/main.ts", to: "extension.js", options: { ...commonJs, external: ["vscode"] } },
  { entry: "server/node-main.ts", to: "server.js", options: commonJs },
  { entry: "extension/web/main.ts", to: "web/extension.js", options: { platform: "browser", format: "cjs", target: "es2023", external: ["vscode"] } },
  { entry: "server/web/main.ts", to: "web/server.js", options: { platform: "browser", format: "iife", target: "es2023" } },
  { entry: "extension/renderer/index.ts", to: "renderer.js", options: { platform: "browser", format: "esm", target: "es2023" } },
  { entry: "extension/panel/main.ts", to: "panel.js", options: { platform: "browser", format: "esm", target: "es2023" } },
  {
    entry: "server/cli/main.ts",
    to: "cli.mjs",
    options: {
      platform: "node",
      format: "esm",
      target: "node20",
      // `yaml` is CommonJS under Node, which an ES module cannot hold without a `require` of its own.
      banner: { js: "#!/usr/bin/env node\nimport{createRequire as createRequireHere}from'node:module';const require=createRequireHere(import.meta.url);" },
    },
  },
];

/** @type {(bundle: typeof bundles[number]) => import("esbuild").BuildOptions} */
const optionsOf = ({ entry, to, options }) => ({
  entryPoints: [path.join(root, entry)],
  outfile: path.join(root, "dist", to),
  absWorkingDir: root,
  bundle: true,
  logLevel: "warning",
  ...options,
});

/** @typedef {import("esbuild").BuildResult<{ metafile: true, write: false }>} Built */

/** What every bundle needs to be there; says all that is missing at once. */
function refuseMissingEntries() {
  const missing = bundles.map((bundle) => bundle.entry).filter((entry) => !existsSync(path.join(root, entry)));
  if (missing.length > 0) throw new Error(`Nothing was built: there is no ${missing.join(", no ")}.`);
}

/**
 * Folder of the package that a bundled file belongs to, such as `node_modules/@scope/name`; undefined for our own.
 *
 * @type {(file: string) => string | undefined}
 */
const packageOf = (file) => /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file)?.[0];

/**
 * The text that must go with the bundles: for each package in them its name, version and licence, word for word.
 *
 * @param {Built[]} results
 */
function notices(results) {
  /** @type {Set<string>} */
  const folders = new Set();
  /** @type {Set<string>} */
  const inSources = new Set();
  for (const { metafile, outputFiles } of results) {
    for (const output of Object.values(metafile.outputs)) {
      for (const [file, { bytesInOutput }] of Object.entries(output.inputs)) {
        const folder = packageOf(file);
        if (folder && bytesInOutput > 0) folders.add(folder);
      }
    }
    for (const file of outputFiles) if (file.path.endsWith(".LEGAL.txt")) inSources.add(file.text.trim());
  }
  /** @type {Map<string, string[]>} */
  const texts = new Map();
  for (const folder of [...folders].toSorted(byText)) {
    const { name, version, license } = JSON.parse(readFileSync(path.join(root, folder, "package.json"), "utf8"));
    const files = readdirSync(path.join(root, folder)).filter((file) => /^(licen[cs]e|notice|copying)/i.test(file)).toSorted(byText);
    const text = files.map((file) => readFileSync(path.join(root, folder, file), "utf8").trim()).join("\n\n");
    // Many packages of one family share one text, which is printed once.
    const licence = text || `Licence as its package states it: ${license}`;
    texts.set(licence, [...(texts.get(licence) ?? []), `${name} ${version} (${license})`]);
  }
  const parts = [...texts].map(([licence, names]) => `${[...new Set(names)].join("\n")}\n\n${licence}\n`);
  if (inSources.size > 0) parts.push(`Notices inside the sources of these packages\n\n${[...inSources].join("\n\n")}\n`);
  return `Fairstrike contains the following packages, each under its own licence.\n\n${parts.join(`\n${"-".repeat(79)}\n\n`)}`;
}

/** @type {(a: string, b: string) => number} */
const byText = (a, b) => (a < b ? -1 : a > b ? 1 : 0);

/** Builds what is packaged. Nothing is written unless every bundle could be built. */
export async function buildAll() {
  refuseMissingEntries();
  // Names stay, so that the stack of a reported failure can be read.
  /** @type {{ minifySyntax: true, minifyWhitespace: true, legalComments: "external", metafile: true, write: false }} */
  const packed = { minifySyntax: true, minifyWhitespace: true, legalComments: "external", metafile: true, write: false };
  const results = await Promise.all(bundles.map((bundle) => build({ ...optionsOf(bundle), ...packed })));
  rmSync(path.join(root, "dist"), { recursive: true, force: true });
  mkdirSync(path.join(root, "dist/web"), { recursive: true });
  for (const { outputFiles } of results) {
    for (const file of outputFiles) if (!file.path.endsWith(".LEGAL.txt")) writeFileSync(file.path, file.contents);
  }
  writeFileSync(path.join(root, "dist/THIRD-PARTY.txt"), notices(results));
  return results;
}

/** Builds for working on it, and again whenever a source changes, until it is stopped. */
async function watch() {
  refuseMissingEntries();
  say("build …");
  const building = new Set(bundles.map((bundle) => bundle.to));
  for (const bundle of bundles) {
    /** @type {import("esbuild").Plugin} */
    const told = {
      name: "say",
      setup(on) {
        on.onStart(() => {
          if (building.size === 0) say("build …");
          building.add(bundle.to);
        });
        on.onEnd(() => {
          building.delete(bundle.to);
          // The editor's task waits for these words.
          if (building.size === 0) say("built; watching for changes");
        });
      },
    };
    const running = await context({ ...optionsOf(bundle), sourcemap: true, plugins: [told] });
    await running.watch();
  }
}

await whenStarted(import.meta.url, async () => {
  if (process.argv.includes("--watch")) return watch();
  const results = await step("build", buildAll);
  for (const { outputFiles } of results) {
    for (const file of outputFiles.filter((built) => !built.path.endsWith(".LEGAL.txt"))) {
      say(`  ${path.relative(root, file.path)} ${Math.round(file.contents.length / 1024)} KiB`);
    }
  }
});
