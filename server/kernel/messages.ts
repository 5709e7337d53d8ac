import type { FileRead } from "../../core/file-port";
import type { NotebookDocument } from "../../core/notebook/document";
import type { Problem } from "../../core/problem";
import type { PresentedCell } from "../../core/present/present-outcome";

/** What the editor's host says to a kernel. */
export type ToKernel =
  | {
      readonly type: "run";
      readonly run: number;
      /** The notebook's path, relative to the root. */
      readonly path: string;
      readonly document: NotebookDocument;
      /** Indexes of the cells asked for; what they need is run with them. */
      readonly only: readonly number[];
    }
  | { readonly type: "file"; readonly request: number; readonly read: FileRead }
  | { readonly type: "listing"; readonly request: number; readonly names: readonly string[] | null };

/** What a kernel says to the editor's host. */
export type FromKernel =
  | { readonly type: "ready" }
  | { readonly type: "read"; readonly request: number; readonly path: string }
  | { readonly type: "list"; readonly request: number; readonly folder: string }
  | { readonly type: "started"; readonly run: number; readonly index: number }
  | { readonly type: "cell"; readonly run: number; readonly cell: PresentedCell }
  | { readonly type: "done"; readonly run: number; readonly problems: readonly Problem[]; readonly cancelled: boolean }
  | { readonly type: "fault"; readonly run: number; readonly message: string };

/** Cells of the shared cancel flag: the number of the last run that was cancelled. */
export const cancelSlot = 0;
