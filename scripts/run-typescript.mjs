// Bundles a script written in TypeScript, which may use `core` and `server`, and runs it.
//   node scripts/run-typescript.mjs make-samples
import path from "node:path";
import { build } from "esbuild";
import { command, root, whenStarted } from "./steps.mjs";

await whenStarted(import.meta.url, async () => {
  const [name, ...args] = process.argv.slice(2);
  if (!name) throw new Error("Which script? One of scripts/*.ts, without its ending.");
  // As deep in the checkout as its source, so that paths relative to the script hold.
  const outfile = path.join(root, ".tsc", `${name}.mjs`);
  await build({
    entryPoints: [path.join(root, "scripts", `${name}.ts`)],
    outfile,
    bundle: true,
    packages: "external",
    platform: "node",
    format: "esm",
    target: "node20",
    logLevel: "warning",
  });
  await command(process.execPath, ["--enable-source-maps", outfile, ...args]);
});
