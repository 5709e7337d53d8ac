import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { sessionSchemaText } from "../core/session/session-schema";
import { referenceMarks, referenceText } from "./reference-text";

// Writes the reference part of the README anew, from the tables in core; the rest is left as it is.
const readme = path.join(import.meta.dirname, "../README.md");
const text = readFileSync(readme, "utf8");
const [begin, end] = referenceMarks;
const [from, to] = [text.indexOf(begin), text.indexOf(end)];
if (from < 0 || to < from) throw new Error(`README.md has no part between ${begin} and ${end}.`);
writeFileSync(readme, `${text.slice(0, from)}${begin}\n\n${referenceText()}\n\n${text.slice(to)}`);

// The schema of session files, for editors and checkers other than our own.
const schemas = path.join(import.meta.dirname, "../schemas");
mkdirSync(schemas, { recursive: true });
writeFileSync(path.join(schemas, "session.schema.json"), sessionSchemaText());
