import type { MisreadRule } from "./rule";

/**
 * The rules by which readings are doubted, one a line; the order decides which evidence comes first where two rules
 * doubt a value equally. No rule sets anything aside, and none doubts a poor strike for being one.
 */
export const misreadRules: readonly MisreadRule[] = [];
