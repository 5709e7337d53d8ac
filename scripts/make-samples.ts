// Writes the exports of the sample sessions. Every shot in them is invented.
//   node scripts/run-typescript.mjs make-samples
import { mkdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { sampleFiles } from "./samples/sample-files";

const folder = path.resolve(import.meta.dirname, "..", "sample-notebooks");
for (const [name, text] of sampleFiles()) {
  const file = path.join(folder, ...name.split("/"));
  mkdirSync(path.dirname(file), { recursive: true });
  writeFileSync(file, text);
}
