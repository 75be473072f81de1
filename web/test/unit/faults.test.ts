import { expect, test } from "vitest";
import type { RackDefect } from "../../src/api/types";
import { inside, keyed, LEAST, moved } from "../../src/state/faults";

const board = { length: 2440, width: 184 };
const knot: RackDefect = { kind: "knot", from: 610, to: 660, left: 90, right: 135 };

test("a fault stays on its board and can still be seen", () => {
  expect(inside(knot, board)).toEqual(knot);
  expect(inside({ ...knot, from: -30, to: -10 }, board)).toMatchObject({ from: 0, to: LEAST });
  expect(inside({ ...knot, from: 2500, to: 2600 }, board)).toMatchObject({ from: 2440 - LEAST, to: 2440 });
  expect(inside({ ...knot, left: 170, right: 400 }, board)).toMatchObject({ left: 170, right: 184 });
  expect(inside({ ...knot, left: 100, right: 50 }, board)).toMatchObject({ left: 100, right: 100 + LEAST });
  expect(inside({ ...knot, left: 0, right: 40 }, { length: 2440, width: 6 })).toMatchObject({
    left: 0,
    right: 6,
  });
});

test("arrows move a fault, with shift they size it, other keys are left alone", () => {
  expect(keyed(knot, "ArrowRight", false)).toEqual({ ...knot, from: 615, to: 665 });
  expect(keyed(knot, "ArrowUp", false)).toEqual({ ...knot, left: 95, right: 140 });
  expect(keyed(knot, "ArrowLeft", true)).toEqual({ ...knot, to: 655 });
  expect(keyed(knot, "Tab", false)).toBeNull();
});

test("a fault that is moved keeps its size at the ends", () => {
  expect(moved(knot, -1000, 0)).toEqual({ ...knot, from: 0, to: 50 });
  expect(moved(knot, 0, -1000)).toEqual({ ...knot, left: 0, right: 45 });
});
