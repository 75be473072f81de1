import { describe, expect, it } from "vitest";
import type { SceneYear, TogetherStep } from "../../src/api/types";
import { assembled, swollen } from "../../src/view3d/stand";

const step = (moving: string[], onto: string[]): TogetherStep => ({
  moving,
  onto,
  direction: [0, -1, 0],
  distance: 200,
  travel: 20,
  joints: [],
  words: "",
});

describe("putting together", () => {
  const ids = ["A", "B", "C"];
  const steps = [step(["B"], ["A"]), step(["C"], ["A", "B"])];

  it("starts with what comes drawn back against its push", () => {
    const at = assembled(ids, steps, 0);
    expect(at.get("A")).toMatchObject({ hidden: false, shift: [0, 0, 0], marked: false });
    expect(at.get("B")?.shift[1]).toBe(200);
    expect(at.get("B")?.marked).toBe(true);
    expect(at.get("C")?.hidden).toBe(true);
  });

  it("brings a part nearer all the time", () => {
    const away = [0, 0.25, 0.5, 0.75, 0.999].map((t) => assembled(ids, steps, t).get("B")?.shift[1] ?? 0);
    expect(away).toEqual(away.toSorted((a, b) => b - a));
    expect(new Set(away).size).toBe(5);
    expect(away[4]).toBeLessThan(1);
  });

  it("leaves what was put together where it is, and ends with all in place", () => {
    expect(assembled(ids, steps, 1).get("B")).toMatchObject({ shift: [0, 0, 0], marked: false });
    for (const stand of assembled(ids, steps, 2).values())
      expect(stand).toMatchObject({ hidden: false, shift: [0, 0, 0], marked: false });
  });
});

describe("the year", () => {
  const year: SceneYear = {
    times: 10,
    months: [
      { name: "January", share: -0.5, words: "" },
      { name: "July", share: 1, words: "" },
    ],
    parts: [{ id: "A", width: 3, thickness: 0.1 }],
  };
  const sizes = new Map([["A", [900, 600, 20]]]);

  it("draws a part wider by the movement times the scale", () => {
    expect(swollen(sizes, year, 1).get("A")?.wider).toBeCloseTo((10 * 3) / 600);
    expect(swollen(sizes, year, 0).get("A")?.wider).toBeCloseTo((-5 * 3) / 600);
    expect(swollen(sizes, year, 1).get("A")?.thicker).toBeCloseTo((10 * 0.1) / 20);
  });

  it("goes from month to month, and from the last to the first", () => {
    expect(swollen(sizes, year, 0.5).get("A")?.wider).toBeCloseTo((0.25 * 10 * 3) / 600);
    expect(swollen(sizes, year, 1.5).get("A")?.wider).toBeCloseTo((0.25 * 10 * 3) / 600);
  });
});
