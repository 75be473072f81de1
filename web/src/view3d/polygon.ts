// Polygons in a plane: outlines with the inside on the left, rims of holes within them, triangles.

import { ShapeUtils, Vector2 } from "three";

export type P2 = [number, number];

/** Twice the area that a polygon encloses; positive when it runs against the clock. */
export function doubleArea(polygon: readonly P2[]): number {
  let sum = 0;
  for (let i = 0; i < polygon.length; i++) {
    const [a, b] = [polygon[i], polygon[(i + 1) % polygon.length]];
    if (a && b) sum += a[0] * b[1] - b[0] * a[1];
  }
  return sum;
}

/** Tells whether a point lies inside of a polygon. On its border the answer is either. */
export function contains(polygon: readonly P2[], p: P2): boolean {
  let inside = false;
  for (let i = 0; i < polygon.length; i++) {
    const [a, b] = [polygon[i], polygon[(i + 1) % polygon.length]];
    if (!a || !b || a[1] > p[1] === b[1] > p[1]) continue;
    const crossing = a[0] + ((p[1] - a[1]) / (b[1] - a[1])) * (b[0] - a[0]);
    if (p[0] < crossing) inside = !inside;
  }
  return inside;
}

/** Tells whether two polygons overlap, judged by their corners: enough for convex ones. */
export function overlap(a: readonly P2[], b: readonly P2[]): boolean {
  return a.some((p) => contains(b, p)) || b.some((p) => contains(a, p));
}

/**
 * Cuts a polygon with holes into triangles that run against the clock. The corners are numbered through
 * outline and holes in turn. Every corner is a corner of triangles, also one on a straight line, so that
 * neighbours in other planes fit without gaps.
 */
export function triangulate(outline: readonly P2[], holes: readonly P2[][]): [number, number, number][] {
  const vectors = (polygon: readonly P2[]) => polygon.map((p) => new Vector2(p[0], p[1]));
  const faces = ShapeUtils.triangulateShape(vectors(outline), holes.map(vectors));
  const points = [...outline, ...holes.flat()];
  const straight = points.flatMap((_, i) => (isOnStraight(outline, holes, i) ? [i] : []));
  const at = (i: number): P2 => points[i] ?? [0, 0];
  const done: [number, number, number][] = [];
  const open = faces.map((f) => [f[0] ?? 0, f[1] ?? 0, f[2] ?? 0] as [number, number, number]);
  for (let face = open.pop(); face; face = open.pop()) {
    const split = splitAtCorner(face, points, straight);
    if (split) open.push(...split);
    else if (doubleArea(face.map(at)) < 0) done.push([face[0], face[2], face[1]]);
    else done.push(face);
  }
  return done;
}

/** Splits a triangle that has a corner of the polygon in the middle of one of its sides. */
function splitAtCorner(
  [a, b, c]: [number, number, number],
  points: readonly P2[],
  straight: readonly number[],
): [number, number, number][] | null {
  for (const [from, to, third] of [
    [a, b, c],
    [b, c, a],
    [c, a, b],
  ] as const) {
    const middle = straight.find((i) => i !== third && isBetween(points[i], points[from], points[to]));
    if (middle !== undefined)
      return [
        [from, middle, third],
        [middle, to, third],
      ];
  }
  return null;
}

/** Tells whether corner i, counted through outline and holes, lies on a straight line between its neighbours. */
function isOnStraight(outline: readonly P2[], holes: readonly P2[][], i: number): boolean {
  let first = 0;
  for (const loop of [outline, ...holes]) {
    const k = i - first;
    if (k < loop.length) return isBetween(loop[k], loop.at(k - 1), loop[(k + 1) % loop.length]);
    first += loop.length;
  }
  return false;
}

function isBetween(p: P2 | undefined, a: P2 | undefined, b: P2 | undefined): boolean {
  if (!p || !a || !b) return false;
  const [dx, dy, px, py] = [b[0] - a[0], b[1] - a[1], p[0] - a[0], p[1] - a[1]];
  const square = dx * dx + dy * dy;
  const share = (px * dx + py * dy) / square;
  return share > 1e-9 && share < 1 - 1e-9 && Math.abs(px * dy - py * dx) < 1e-9 * square;
}
