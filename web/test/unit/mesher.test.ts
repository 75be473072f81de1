import { describe, expect, it } from "vitest";
import type { Feature } from "../../src/api/types";
import { CORNERS, type P3 } from "../../src/view3d/cuts";
import { type Mesh, meshPart } from "../../src/view3d/mesher";

const LEG: P3 = [480, 48, 48];

function box(kind: string, from: P3, to: P3, adds = false): Feature {
  return { id: "f", kind, shape: "box", adds, from, to, words: "", out: [0, 0, 1] };
}

function bore(from: P3, to: P3, diameter: number): Feature {
  return {
    id: "f",
    kind: "bore",
    shape: "cylinder",
    adds: false,
    from,
    to,
    diameter,
    words: "",
    out: [0, 0, 1],
  };
}

/** Area of the polygon that stands for a circle. */
const circleArea = (d: number) => ((CORNERS * (d / 2) ** 2) / 2) * Math.sin((2 * Math.PI) / CORNERS);

function corner(mesh: Mesh, i: number): P3 {
  const at = (mesh.index[i] ?? 0) * 3;
  return [mesh.positions[at] ?? 0, mesh.positions[at + 1] ?? 0, mesh.positions[at + 2] ?? 0];
}

function volume(mesh: Mesh): number {
  let six = 0;
  for (let i = 0; i < mesh.index.length; i += 3) {
    const [a, b, c] = [corner(mesh, i), corner(mesh, i + 1), corner(mesh, i + 2)];
    six +=
      a[0] * (b[1] * c[2] - b[2] * c[1]) -
      a[1] * (b[0] * c[2] - b[2] * c[0]) +
      a[2] * (b[0] * c[1] - b[1] * c[0]);
  }
  return six / 6;
}

/** Directed edges that have no partner in the other direction. */
function unmatched(mesh: Mesh): string[] {
  const edges = new Map<string, number>();
  const name = (p: P3) => p.map((x) => (Math.round(x * 1000) / 1000 + 0).toString()).join(",");
  for (let i = 0; i < mesh.index.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const [a, b] = [name(corner(mesh, i + k)), name(corner(mesh, i + ((k + 1) % 3)))];
      const [key, turn] = a < b ? [`${a} ${b}`, 1] : [`${b} ${a}`, -1];
      edges.set(key, (edges.get(key) ?? 0) + turn);
    }
  }
  return [...edges].filter(([, sum]) => sum !== 0).map(([key]) => key);
}

/** Each normal must look to the same half-space as its triangle turns. */
function wrongNormals(mesh: Mesh): number {
  let wrong = 0;
  for (let i = 0; i < mesh.index.length; i += 3) {
    const [a, b, c] = [corner(mesh, i), corner(mesh, i + 1), corner(mesh, i + 2)];
    const [u, v] = [b.map((x, k) => x - (a[k] ?? 0)), c.map((x, k) => x - (a[k] ?? 0))] as [P3, P3];
    const n: P3 = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const at = (mesh.index[i] ?? 0) * 3;
    const dot = n.reduce((sum, x, k) => sum + x * (mesh.normals[at + k] ?? 0), 0);
    if (dot <= 0) wrong++;
  }
  return wrong;
}

const whole = LEG[0] * LEG[1] * LEG[2];
const cases: { name: string; features: Feature[]; volume: number }[] = [
  { name: "a plain part", features: [], volume: whole },
  {
    name: "blind bores on four sides",
    features: [
      bore([440, 0, 20], [440, 20, 20], 8),
      bore([440, 48, 30], [440, 18, 30], 8),
      bore([400, 20, 0], [400, 20, 15], 10),
      bore([0, 24, 24], [40, 24, 24], 8),
    ],
    volume: whole - circleArea(8) * (20 + 30 + 40) - circleArea(10) * 15,
  },
  {
    name: "a bore straight through",
    features: [bore([100, 24, 48], [100, 24, -1], 8)],
    volume: whole - circleArea(8) * 48,
  },
  {
    name: "a leaning bore",
    features: [bore([200, 24, 48], [230, 24, 28], 8)],
    // Cut off slantwise at its mouth, the bore has the volume of one cut off square in the middle.
    volume: whole - circleArea(8) * Math.hypot(30, 20),
  },
  {
    name: "a mortise and a slot that goes through",
    features: [box("mortise", [380, 16, 18], [460, 32, 48]), box("slot", [100, 20, 0], [130, 26, 48])],
    volume: whole - 80 * 16 * 30 - 30 * 6 * 48,
  },
  {
    name: "tenons with shoulders all round on both ends",
    features: [
      box("tenon", [480, 16, 8], [510, 32, 40], true),
      box("tenon", [-25, 16, 8], [0, 32, 40], true),
    ],
    volume: whole + 16 * 32 * 55,
  },
  {
    name: "a tenon as wide as the part",
    features: [box("tenon", [480, 16, 0], [510, 32, 48], true)],
    volume: whole + 16 * 48 * 30,
  },
  {
    name: "a groove that runs out at both ends, beside a bore",
    features: [box("groove", [0, 20, 40], [480, 28, 48]), bore([240, 8, 48], [240, 8, 30], 6)],
    volume: whole - 480 * 8 * 8 - circleArea(6) * 18,
  },
  {
    name: "a groove that stops, a rebate and a mortise in one side",
    features: [
      box("groove", [100, 20, 40], [480, 28, 48]),
      box("rebate", [0, 0, 38], [480, 10, 48]),
      box("mortise", [20, 20, 20], [60, 30, 48]),
    ],
    volume: whole - 380 * 8 * 8 - 480 * 10 * 10 - 40 * 10 * 28,
  },
  {
    name: "grooves that cross",
    features: [box("groove", [0, 20, 40], [480, 28, 48]), box("groove", [200, 0, 40], [220, 48, 48])],
    volume: whole - 480 * 8 * 8 - 20 * 48 * 8 + 20 * 8 * 8,
  },
  {
    name: "a taper to the low end, with a mortise above it",
    features: [box("taper", [0, 0, 36], [360, 48, 48]), box("mortise", [380, 16, 18], [460, 32, 48])],
    volume: whole - (360 * 12 * 48) / 2 - 80 * 16 * 30,
  },
  {
    name: "tapers on two sides that meet",
    features: [box("taper", [0, 0, 36], [360, 48, 48]), box("taper", [0, 36, 0], [360, 48, 48])],
    // Both wedges, less the part of them that both take.
    volume: whole - 360 * 12 * 48 + (360 * 12 * 12) / 3,
  },
  {
    name: "a taper to the high end",
    features: [box("taper", [120, 0, 36], [480, 48, 48])],
    volume: whole - (360 * 12 * 48) / 2,
  },
];

describe("the mesher", () => {
  for (const c of cases) {
    it(`closes ${c.name}`, () => {
      const mesh = meshPart(LEG, c.features);
      expect(unmatched(mesh)).toEqual([]);
      expect(wrongNormals(mesh)).toBe(0);
      expect(volume(mesh) / c.volume).toBeCloseTo(1, 5);
    });
  }

  it("draws a hole that breaks out over an edge without opening the side", () => {
    const mesh = meshPart(LEG, [bore([240, 2, 48], [240, 2, 30], 8)]);
    expect(mesh.counts[0]).toBe(36); // six sides of two triangles
    expect(mesh.counts[1]).toBeGreaterThan(0);
  });

  it("draws two mortises that run into each other as far as it can", () => {
    const mesh = meshPart(LEG, [
      box("mortise", [380, 16, 10], [460, 32, 48]),
      box("mortise", [380, 10, 16], [460, 48, 32]),
    ]);
    expect(mesh.counts[1]).toBeGreaterThan(0);
  });
});

describe("cuts that are not boxes", () => {
  const round = (f: Feature): Feature => ({ ...f, rounded: true });
  const flared = (f: Feature, out: P3, flare: number): Feature => ({ ...f, out, flare });

  it("cuts the ends of a rounded mortise half round", () => {
    // 60 x 10 mm and 20 mm deep: what is taken is a box of 50 x 10 and a polygon of as many corners as a circle.
    const mesh = meshPart(LEG, [round(box("mortise", [100, 19, 28], [160, 29, 48]))]);
    expect(unmatched(mesh)).toEqual([]);
    const taken = (50 * 10 + circleArea(10)) * 20;
    expect(480 * 48 * 48 - volume(mesh)).toBeCloseTo(taken, 0);
  });

  it("makes a rounded tenon stand out", () => {
    const mesh = meshPart(LEG, [round(box("tenon", [480, 9, 19], [500, 39, 29], true))]);
    expect(unmatched(mesh)).toEqual([]);
    expect(volume(mesh) - 480 * 48 * 48).toBeCloseTo((20 * 10 + circleArea(10)) * 20, 0);
  });

  it("makes a slot as long as it is wide a round hole", () => {
    const mesh = meshPart(LEG, [round(box("slot", [100, 20, 38], [108, 28, 48]))]);
    expect(unmatched(mesh)).toEqual([]);
    expect(480 * 48 * 48 - volume(mesh)).toBeCloseTo(circleArea(8) * 10, 0);
  });

  it("flares a socket towards its far end", () => {
    // Cut from the end, 12 mm deep, through the thickness; 10 mm wide at the mouth and 14 at the floor.
    const socket = flared(box("notch", [468, 19, 0], [480, 29, 48]), [1, 0, 0], 2);
    const mesh = meshPart(LEG, [socket]);
    expect(unmatched(mesh)).toEqual([]);
    expect(480 * 48 * 48 - volume(mesh)).toBeCloseTo(12 * 12 * 48, 3);
  });

  it("flares a tail towards its far end", () => {
    const tail = flared(box("tenon", [480, 19, 0], [492, 29, 48], true), [1, 0, 0], 2);
    const mesh = meshPart(LEG, [tail]);
    expect(unmatched(mesh)).toEqual([]);
    expect(volume(mesh) - 480 * 48 * 48).toBeCloseTo(12 * 12 * 48, 3);
  });
});
