import { expect, test } from "vitest";
import type { BentPart } from "../../src/api/types";
import { bend, cutAtSections, swing } from "../../src/view3d/bend";
import { meshPart } from "../../src/view3d/mesher";

const size = [400, 60, 30] as const;
const mesh = meshPart([...size], []);

function area(positions: Float32Array): number {
  let sum = 0;
  for (let i = 0; i < positions.length; i += 9) {
    const [a, b, c] = [0, 3, 6].map((k) => [...positions.subarray(i + k, i + k + 3)]) as [
      number[],
      number[],
      number[],
    ];
    const u = b.map((v, k) => v - (a[k] ?? 0)) as [number, number, number];
    const w = c.map((v, k) => v - (a[k] ?? 0)) as [number, number, number];
    sum += Math.hypot(u[1] * w[2] - u[2] * w[1], u[2] * w[0] - u[0] * w[2], u[0] * w[1] - u[1] * w[0]) / 2;
  }
  return sum;
}

test("a cut surface is as large as before, and has corners at each section", () => {
  const cut = cutAtSections(mesh, 400, 9);
  expect(area(cut.positions)).toBeCloseTo(2 * (400 * 60 + 400 * 30 + 60 * 30), 3);
  const places = new Set<number>();
  for (let i = 0; i < cut.positions.length; i += 3) places.add(Math.round(cut.positions[i] ?? -1));
  expect([...places].sort((a, b) => a - b)).toEqual([0, 50, 100, 150, 200, 250, 300, 350, 400]);
  expect(cut.counts.reduce((a, b) => a + b)).toBe(cut.positions.length / 3);
  let long = 0;
  for (let i = 0; i < cut.lines.length; i += 6) {
    long += Math.hypot(...[0, 1, 2].map((k) => (cut.lines[i + k + 3] ?? 0) - (cut.lines[i + k] ?? 0)));
  }
  expect(long).toBeCloseTo(4 * (400 + 60 + 30), 3);
});

const still = { shift: [0, 0, 0], turn: [0, 0, 0] };
const straight: BentPart = { id: "A1", steps: Array.from({ length: 9 }, () => still) };

test("a part without movement stays where it is", () => {
  const from = cutAtSections(mesh, 400, 9).positions;
  const to = new Float32Array(from.length);
  bend(from, to, size, straight, 20);
  expect(to).toEqual(from);
});

test("a turn moves corners about the middle of their section", () => {
  const part: BentPart = {
    id: "A1",
    steps: straight.steps.map(() => ({ shift: [1, 2, 3], turn: [0, 0, 0.01] })),
  };
  const to = new Float32Array(3);
  bend(new Float32Array([200, 60, 0]), to, size, part, 10);
  // Thirty above the middle: x falls by turn times thirty, ten times as large, and all shifts by ten times theirs.
  expect([...to]).toEqual([200 + 10 - 3, 60 + 20, 30].map((v) => expect.closeTo(v, 4)));
});

test("the load comes and goes", () => {
  expect(swing(0)).toBeCloseTo(0);
  expect(swing(1300)).toBeCloseTo(1);
  expect(swing(2600)).toBeCloseTo(0);
});
