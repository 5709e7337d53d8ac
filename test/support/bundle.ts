import { mkdtempSync, realpathSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { build } from "esbuild";

const root = path.resolve(import.meta.dirname, "../..");

const made = new Map<string, Promise<string>>();

/**
 * Bundles an entry point into a folder of its own, once for all files that a worker tests and taken away when the worker
 * ends; returns the bundle's path. The bundle is what is packaged but for being smaller: nothing is read from `dist`.
 *
 * @param entry from the root of the checkout.
 */
export function bundle(entry: string, format: "cjs" | "esm"): Promise<string> {
  const key = `${entry} ${format}`;
  const known = made.get(key) ?? write(entry, format);
  made.set(key, known);
  return known;
}

async function write(entry: string, format: "cjs" | "esm"): Promise<string> {
  const folder = realpathSync(mkdtempSync(path.join(tmpdir(), "fairstrike-bundle-")));
  process.once("exit", () => rmSync(folder, { recursive: true, force: true }));
  const outfile = path.join(folder, format === "esm" ? "bundle.mjs" : "bundle.js");
  await build({
    entryPoints: [path.join(root, entry)],
    outfile,
    absWorkingDir: root,
    bundle: true,
    platform: "node",
    target: "node20",
    format,
    logLevel: "silent",
    // As in scripts/build.mjs, which says why.
    ...(format === "esm"
      ? { banner: { js: "import{createRequire as createRequireHere}from'node:module';const require=createRequireHere(import.meta.url);" } }
      : {
          alias: {
            "vega-canvas": path.join(root, "node_modules/vega-canvas/build/vega-canvas.browser.js"),
            yaml: path.join(root, "node_modules/yaml/browser/index.js"),
          },
        }),
  });
  return outfile;
}
