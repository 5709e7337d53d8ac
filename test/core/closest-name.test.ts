import { expect, test } from "vitest";
import { closestName } from "../../core/closest-name";

function checkClosest(name: string, candidates: string, expected: string | null): void {
  expect(closestName(name, candidates.split(",")), name).toBe(expected);
}

test("the nearest name is the one with the fewest slips", () => {
  checkClosest("carri", "total,carry,offline", "carry");
  checkClosest("hed", "shed,head", "shed");
  checkClosest("ballspeed", "club_speed,ball_speed", "ball_speed");
  checkClosest("Ball Speed", "ball_speed", "ball_speed");
  checkClosest("crary", "carry", "carry");
  checkClosest("WREN", "Heron,Wren", "Wren");
});

test("names that are far, short or endless have no nearest", () => {
  checkClosest("spin", "carry,total", null);
  checkClosest("x", "y,z", null);
  checkClosest("X", "x", "x");
  checkClosest("", "a", null);
  checkClosest("a".repeat(65), "a".repeat(65), null);
});

test("a key of a session is found through a slip", () => {
  const names = "ball_speed,club_speed,carry,total";
  checkClosest("Ball Speed", names, "ball_speed");
  checkClosest("cary", names, "carry");
  checkClosest("acrry", names, "carry");
  checkClosest("spin", names, null);
  checkClosest("", "", null);
});
