// The flat regions of a part made of boxes: the part itself, less the boxes that are cut away, with the
// boxes that stand out. All bounds of the boxes make a grid; a cell of it is wood or air as a whole, and
// where wood meets air there is surface. Cells of one plane are joined to regions with outlines.

import { AXES, type Axis, type Box, type P3, SAME } from "./cuts";
import { contains, doubleArea, type P2 } from "./polygon";

/** A flat piece of surface. Its outline runs against the clock when seen from the air. */
export interface Region {
  axis: Axis;
  high: boolean; // the air is toward rising coordinates
  level: number; // coordinate of the plane
  outline: P2[]; // in the axes that follow the plane's axis in turn: y z, z x, x y
  holes: P2[][];
  onSide: boolean; // lies in one of the six sides of the part
  onPeg: boolean; // belongs to wood that stands out
}

/** The axes that u and v of a region run along. */
export const uvOf = (axis: Axis): [Axis, Axis] => [((axis + 1) % 3) as Axis, ((axis + 2) % 3) as Axis];

/** Splits along the grain, where a taper begins or ends, keep regions apart that will not stay in plane. */
export function regionsOf(size: P3, boxes: readonly Box[], splits: readonly number[]): Region[] {
  const lines = AXES.map((axis) => gridLines(size, boxes, axis === 0 ? splits : [], axis)) as [
    number[],
    number[],
    number[],
  ];
  const slabs = lines[0].map((x) => splits.filter((s) => s <= x + SAME).length);
  const wood = (i: number, j: number, k: number) =>
    isWood(size, boxes, [mid(lines[0], i), mid(lines[1], j), mid(lines[2], k)]);

  const regions: Region[] = [];
  for (const axis of AXES) {
    const [u, v] = uvOf(axis);
    const cell = (level: number, a: number, b: number): boolean => {
      const at: P3 = [0, 0, 0];
      at[axis] = level;
      at[u] = a;
      at[v] = b;
      return wood(...at);
    };
    lines[axis].forEach((level, n) => {
      for (const high of [false, true]) {
        const patches = new Map<string, [number, number][]>();
        for (let a = 0; a + 1 < lines[u].length; a++) {
          for (let b = 0; b + 1 < lines[v].length; b++) {
            const [below, above] = [cell(n - 1, a, b), cell(n, a, b)];
            if (below === above || below !== high) continue;
            const x = u === 0 ? a : v === 0 ? b : -1;
            const slab = x < 0 ? 0 : (slabs[x] ?? 0);
            const peg = outside(size, axis, level, mid(lines[u], a), mid(lines[v], b), high);
            const key = `${slab} ${peg}`;
            patches.set(key, [...(patches.get(key) ?? []), [a, b]]);
          }
        }
        for (const [key, cells] of patches) {
          for (const { outline, holes } of outlines(cells, lines[u], lines[v], high)) {
            const onSide = Math.abs(level - (high ? size[axis] : 0)) < SAME;
            regions.push({ axis, high, level, outline, holes, onSide, onPeg: key.endsWith("true") });
          }
        }
      }
    });
  }
  return regions;
}

function gridLines(size: P3, boxes: readonly Box[], splits: readonly number[], axis: Axis): number[] {
  const all = [0, size[axis], ...splits, ...boxes.flatMap((b) => [b.low[axis], b.high[axis]])];
  const sorted = all.sort((a, b) => a - b);
  return sorted.filter((x, i) => i === 0 || x - (sorted[i - 1] ?? 0) > SAME);
}

const mid = (lines: readonly number[], i: number): number => {
  const [a, b] = [lines[i], lines[i + 1]];
  return a === undefined || b === undefined ? Number.NaN : (a + b) / 2;
};

function isWood(size: P3, boxes: readonly Box[], p: P3): boolean {
  const inBox = (b: { low: P3; high: P3 }) => AXES.every((k) => p[k] > b.low[k] && p[k] < b.high[k]);
  if (boxes.some((b) => b.adds && inBox(b))) return true;
  return inBox({ low: [0, 0, 0], high: size }) && !boxes.some((b) => !b.adds && inBox(b));
}

/** Tells whether the wood behind a cell of surface lies outside of the part's own box. */
function outside(size: P3, axis: Axis, level: number, a: number, b: number, high: boolean): boolean {
  const [u, v] = uvOf(axis);
  const p: P3 = [0, 0, 0];
  p[axis] = level + (high ? -SAME : SAME);
  p[u] = a;
  p[v] = b;
  return AXES.some((k) => p[k] < 0 || p[k] > size[k]);
}

type Corner = [number, number];

/** Joins cells, given by their lowest corner, to polygons with holes. */
function outlines(
  cells: Corner[],
  us: number[],
  vs: number[],
  high: boolean,
): { outline: P2[]; holes: P2[][] }[] {
  const key = (c: Corner) => `${c[0]} ${c[1]}`;
  const edges = new Map<string, Corner[]>();
  const add = (from: Corner, to: Corner) => {
    const back = edges.get(key(to));
    const twin = back?.findIndex((c) => key(c) === key(from)) ?? -1;
    if (back && twin >= 0)
      back.splice(twin, 1); // two cells share this edge: it lies inside
    else edges.set(key(from), [...(edges.get(key(from)) ?? []), to]);
  };
  for (const [a, b] of cells) {
    add([a, b], [a + 1, b]);
    add([a + 1, b], [a + 1, b + 1]);
    add([a + 1, b + 1], [a, b + 1]);
    add([a, b + 1], [a, b]);
  }
  const outer: P2[][] = [];
  const inner: P2[][] = [];
  for (const [start, targets] of edges) {
    while (targets.length > 0) {
      const loop = walk(start, edges, key).map((c): P2 => [us[c[0]] ?? 0, vs[c[1]] ?? 0]);
      (doubleArea(loop) > 0 ? outer : inner).push(loop);
    }
  }
  const turned = (loop: P2[]) => (high ? loop : loop.toReversed());
  return outer.map((outline) => ({
    outline: turned(outline),
    holes: inner.filter((hole) => contains(outline, middleOf(hole))).map(turned),
  }));
}

/** A point just inside of the wood beside the first edge of a hole, which runs with the clock. */
function middleOf(hole: P2[]): P2 {
  const [a = [0, 0] as P2, b = [0, 0] as P2] = hole;
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  return [(a[0] + b[0]) / 2 - dy * 1e-6, (a[1] + b[1]) / 2 + dx * 1e-6];
}

/** Follows edges from a corner until it is reached again, turning left where regions touch in a corner. */
function walk(start: string, edges: Map<string, Corner[]>, key: (c: Corner) => string): Corner[] {
  const loop: Corner[] = [];
  let here = start;
  let heading: Corner = [0, 0];
  do {
    const targets = edges.get(here) ?? [];
    const [x = 0, y = 0] = here.split(" ").map(Number);
    const left = targets.findIndex((t) => heading[0] * (t[1] - y) - heading[1] * (t[0] - x) > 0);
    const [next] = targets.splice(Math.max(left, 0), 1);
    if (!next) break;
    heading = [next[0] - x, next[1] - y];
    loop.push([x, y]);
    here = key(next);
  } while (here !== start);
  return loop;
}
