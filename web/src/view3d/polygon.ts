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
 * outline and holes in turn. None of them is left in the middle of a triangle's side, not even one on a
 * straight line, so that neighbours in other planes fit without gaps.
 */
export function triangulate(outline: readonly P2[], holes: readonly P2[][]): [number, number, number][] {
  const vectors = (polygon: readonly P2[]) => polygon.map((p) => new Vector2(p[0], p[1]));
  const faces = ShapeUtils.triangulateShape(vectors(outline), holes.map(vectors));
  const points = [...outline, ...holes.flat()];
  const at = (i: number): P2 => points[i] ?? [0, 0];
  const done: [number, number, number][] = [];
  const open = faces.map((f) => [f[0] ?? 0, f[1] ?? 0, f[2] ?? 0] as [number, number, number]);
  for (let face = open.pop(); face; face = open.pop()) {
    const split = splitAtCorner(face, points);
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
): [number, number, number][] | null {
  return splitSide(a, b, c, points) ?? splitSide(b, c, a, points) ?? splitSide(c, a, b, points);
}

/** Splits a triangle by a line from its third corner to a corner of the polygon between from and to. */
function splitSide(
  from: number,
  to: number,
  third: number,
  points: readonly P2[],
): [number, number, number][] | null {
  const [start, end] = [points[from], points[to]];
  if (!start || !end) return null;
  // Written out, because this runs for every side of every triangle and every corner.
  const x = start[0];
  const y = start[1];
  const dx = end[0] - x;
  const dy = end[1] - y;
  const square = dx * dx + dy * dy;
  for (let i = 0; i < points.length; i++) {
    const p = points[i];
    if (!p || i === third) continue;
    const px = p[0] - x;
    const py = p[1] - y;
    if (Math.abs(px * dy - py * dx) >= 1e-9 * square) continue;
    const share = px * dx + py * dy;
    if (share <= 1e-9 * square || share >= (1 - 1e-9) * square) continue;
    return [
      [from, i, third],
      [i, to, third],
    ];
  }
  return null;
}
