import type { FileFault } from "./file-port";
import { problemKind as kind, shown } from "./problem-kind";

const whyNot: Readonly<Record<FileFault, string>> = {
  missing: "does not exist",
  "other case": "does not exist; there is one whose name differs only in capital letters or accents",
  outside: "leads outside the folder that may be read",
  "not a file": "is not an ordinary file",
  "too large": "is larger than the limit for a file",
  changing: "was being changed while it was read",
  unsaved: "cannot be found before this document is saved: save it first",
  unreadable: "cannot be read",
};

/** What can keep a cell that was written well from giving its result. */
export const runProblems = {
  "run.too-large": kind(
    "error",
    (f: { what: string; count: number; most: number }) => `this would take ${f.count} ${f.what}; the limit is ${f.most}`,
    () => "filter or roll up the rows first",
  ),
  "run.out-of-time": kind(
    "error",
    (f: { seconds: number }) => `this cell was stopped after ${f.seconds} seconds`,
    () => "filter or roll up the rows first",
  ),
  "run.session-out-of-time": kind(
    "error",
    (f: { path: string; seconds: number }) => `${shown(f.path)} and its exports were not read within ${f.seconds} seconds, so that nothing is known of its shots here`,
    () => "name smaller exports, or check it on the command line: `fairstrike check`",
  ),
  "run.blocked": kind(
    "error",
    (f: { name: string; because?: string }) => `${shown(f.name)} has no result, and this needs it${f.because === undefined ? "" : `: ${f.because}`}`,
    (f) => (f.name === "shots" ? "mend what the front matter says under shots first" : "mend that cell first"),
  ),
  "run.no-code-generation": kind(
    "error",
    () => "this verb compiles a small function, which this place forbids",
    () => "run the notebook in the editor or on the command line",
  ),
  "run.no-front-shots": kind(
    "error",
    () => "this notebook names no session, so there is no table `shots`",
    () => "name one in the front matter: `shots: sessions/NAME.session.yaml`",
  ),
  "run.no-shots": kind(
    "error",
    (f: { name: string; reason: string }) => `the shots of ${shown(f.name)} could not be loaded: ${f.reason}`,
    () => "mend the session file or its export first",
  ),
  "run.no-sessions": kind(
    "error",
    (f: { path: string }) => `there is no session file at ${shown(f.path)}`,
    () => "name a session file (`sessions/NAME.session.yaml`) or a folder of them (`sessions/*.session.yaml`)",
  ),
  "run.file": kind(
    "error",
    (f: { path: string; reason: FileFault; near?: string }) => `${shown(f.path)} ${whyNot[f.reason]}`,
    (f) => `${f.near === undefined ? "" : `did you mean ${shown(f.near)}? `}paths are relative to the file that names them, stay inside the workspace folder or repository, and lead to ordinary files`,
  ),
  "run.internal": kind(
    "error",
    (f: { reason: string }) => `this cell ended with a fault of the program: ${f.reason}`,
    () => "please report it with the cell; the data are not at fault",
  ),
} as const;
