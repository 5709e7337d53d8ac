import { expect, test } from "vitest";
import { readChooseAnswer, readChooseMessage } from "../../../core/present/choice-message";

function checkRead(message: object, isOne: boolean): void {
  const usual = { type: "choose", question: 1, name: "head", wanted: { kind: "values", values: ["Wren"] } };
  expect(readChooseMessage({ ...usual, ...message }) !== null, JSON.stringify(message).slice(0, 80)).toBe(isOne);
}

test("what a person chooses is taken in the forms that there are, and in no other", () => {
  checkRead({}, true);
  checkRead({ wanted: { kind: "range", from: "120", to: "" } }, true);
  checkRead({ wanted: { kind: "word", word: "carry" } }, true);
  checkRead({ wanted: { kind: "list" } }, true);
  checkRead({ wanted: { kind: "range", from: 120, to: "" } }, false);
  checkRead({ wanted: { kind: "values", values: [null] } }, false);
  checkRead({ wanted: { kind: "word" } }, false);
  checkRead({ wanted: { kind: "code", word: "carry" } }, false);
  checkRead({ wanted: null }, false);
  checkRead({ question: 0.5 }, false);
  checkRead({ name: "x".repeat(1001) }, false);
  checkRead({ type: "set-aside" }, false);
});

test("a message is read without what does not belong to it", () => {
  const message = { type: "choose", question: 1, name: "what", wanted: { kind: "word", word: "carry" } };
  expect(readChooseMessage({ ...message, wanted: { ...message.wanted, more: 1 }, more: 1 })).toEqual(message);
});

test("an answer is read, and nothing else for one", () => {
  const answer = { type: "choose-answer", question: 1, done: true, text: "head = Wren" };
  expect(readChooseAnswer(answer)).toEqual(answer);
  expect(readChooseAnswer({ ...answer, done: 1 })).toBeNull();
  expect(readChooseAnswer({ ...answer, type: "choose" })).toBeNull();
});
