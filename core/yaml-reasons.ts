import type { ErrorCode } from "yaml";

/**
 * What the YAML library's error codes mean, in our words; `null` where the same spot is reported by a code of ours.
 */
export const syntaxReasons: Readonly<Record<ErrorCode, string | null>> = {
  ALIAS_PROPS: null,
  BAD_ALIAS: null,
  BAD_COLLECTION_TYPE: null,
  BAD_DIRECTIVE: null,
  BAD_DQ_ESCAPE: "between double quotes a backslash begins an escape, and this is none; use single quotes",
  BAD_INDENT: "the indentation does not fit the lines above",
  BAD_PROP_ORDER: null,
  BAD_SCALAR_START: "a value that begins with this character must be quoted",
  BLOCK_AS_IMPLICIT_KEY: "a map or list cannot begin on the line of another key",
  BLOCK_IN_FLOW: "a map or list with lines of its own cannot stand between brackets",
  DUPLICATE_KEY: null,
  IMPOSSIBLE: "this cannot be read",
  KEY_OVER_1024_CHARS: "a key has at most 1024 characters",
  MISSING_CHAR: "a bracket, quote, comma, colon or space is missing",
  MULTILINE_IMPLICIT_KEY: "a key stands on one line",
  MULTIPLE_ANCHORS: null,
  MULTIPLE_DOCS: null,
  MULTIPLE_TAGS: null,
  NON_STRING_KEY: null,
  RESOURCE_EXHAUSTION: "this takes too much to read",
  TAB_AS_INDENT: null,
  TAG_RESOLVE_FAILED: null,
  UNEXPECTED_TOKEN: "this was not expected here",
};
