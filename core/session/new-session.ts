/** Bringing in exports: from bytes to a proposal, from a person's answers to a session file and a starter notebook. */
export type * from "./session-proposal";
export { proposeSession, unreadText } from "./propose-session";
export { firstAnswers } from "./propose-answers";
export { openQuestions, withHeadsNamed } from "./propose-questions";
export { writeNewSession } from "./new-session-text";
export { readBack, type HeadCount } from "./read-back";
export { sideTexts } from "./propose-sides";
