import type { Basis } from "../../core/basis";
import type { FileRead } from "../../core/file-port";
import type { NotebookDocument } from "../../core/notebook/document";
import type { Problem } from "../../core/problem";
import type { PresentedCell } from "../../core/present/present-outcome";
import type { ReportForm } from "../../core/report/write-report";
import type { Port } from "../results/messages";

/** What the editor's host says to a kernel: what to run, and answers to what the kernel asks. */
export type ToKernel =
  | {
      readonly type: "run";
      /** The number of the run: 1, 2, 3 … for one kernel. */
      readonly run: number;
      /** The notebook's path, relative to the root. */
      readonly path: string;
      readonly document: NotebookDocument;
      /** Numbers of the cells asked for; what they need is run with them. */
      readonly only: readonly number[];
      /** The form of a report to be made of the whole notebook, all of whose cells are then run. */
      readonly report?: ReportForm;
    }
  /** Asks what each cell's result would be computed from now; nothing is run. */
  | { readonly type: "look"; readonly look: number; readonly path: string; readonly document: NotebookDocument }
  /** Where finished tables go that have more rows than are shown at once; their handles begin with `prefix`. */
  | { readonly type: "results"; readonly prefix: string; readonly port: Pick<Port, "postMessage"> }
  | Answer;

/** An answer of the host, with the number of the question. */
export type Answer =
  | { readonly type: "file"; readonly request: number; readonly read: FileRead }
  | { readonly type: "listing"; readonly request: number; readonly names: readonly string[] | null }
  | { readonly type: "current"; readonly request: number; readonly isCurrent: boolean };

/** What a kernel asks the host about files; the paths are relative to the root. */
export type Question =
  | { readonly type: "read"; readonly request: number; readonly path: string }
  | { readonly type: "list"; readonly request: number; readonly path: string }
  | { readonly type: "ask-current"; readonly request: number; readonly path: string; readonly digest: string };

/** A report that was asked for with a run. */
export interface MadeReport {
  readonly text: string;
  /** The files that it was made from, relative to the root. */
  readonly inputs: readonly string[];
  /** How many cells have no result. */
  readonly withoutResult: number;
}

/** What a kernel says to the editor's host. */
export type FromKernel =
  | Question
  | { readonly type: "ready" }
  | { readonly type: "started"; readonly run: number; readonly index: number }
  | { readonly type: "cell"; readonly run: number; readonly cell: PresentedCell }
  | { readonly type: "done"; readonly run: number; readonly problems: readonly Problem[]; readonly cancelled: boolean; readonly report?: MadeReport }
  | { readonly type: "fault"; readonly run: number; readonly message: string }
  /** One basis for each cell of the document; `null` when it could not be told. */
  | { readonly type: "looked"; readonly look: number; readonly cells: readonly Basis[] | null };

/** The place in the shared cancel flags that holds the number of the last run that was cancelled. */
export const cancelSlot = 0;
