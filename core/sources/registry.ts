import type { SourceKind } from "../query/vocabulary";
import { flight } from "./flight";

/** Every source that makes a table from options. The one place where they are listed; `names.ts` reserves their names. */
export const sources: readonly SourceKind[] = [flight];
