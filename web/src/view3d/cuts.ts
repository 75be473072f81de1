// Reads the features of a part into the shapes that the mesher knows: holes and pegs with a rim on one
// side, boxes that are taken away or added, and tapers.

import type { Feature } from "../api/types";

/** A place in the frame of a part: along the grain, across it, through the thickness; mm. */
export type P3 = [number, number, number];

/** An axis of that frame. */
export type Axis = 0 | 1 | 2;

/** One of the six sides of a part: the axis it is square to, and whether it lies at the high end. */
export interface Side {
  axis: Axis;
  high: boolean;
}

/** A hole or peg: rim lies on its side, floor has the same number of points at the other end. */
export interface Hole {
  side: Side;
  rim: P3[];
  floor: P3[];
  /** The floor lies on the opposite side: there is none, the hole goes through. */
  through: boolean;
  /** It stands out of the side instead of going in. */
  adds: boolean;
  /** The wall is one smooth curve. */
  round: boolean;
}

/** A box with sides parallel to the part's. */
export interface Box {
  low: P3;
  high: P3;
  adds: boolean;
}

/** A box that is wider at its far end than at its mouth: a tail, or the socket of one. */
export interface Flare {
  box: Box;
  /** The axis that goes into it, and whether the far end is the high one. */
  depth: Axis;
  farHigh: boolean;
  /** How much wider it is there on either side, across the width of the part. */
  by: number;
}

/** Wood planed off a side: nothing at from, depth at to, both along the grain. */
export interface Taper {
  side: Side;
  from: number;
  to: number;
  depth: number;
}

export interface Cuts {
  holes: Hole[];
  boxes: Box[];
  tapers: Taper[];
  flares: Flare[];
}

/** Lengths nearer than this are the same, mm. Far below what wood can be cut to, far above rounding. */
export const SAME = 1e-4;

/** Corners of a drawn circle. */
export const CORNERS = 24;

export const AXES: readonly Axis[] = [0, 1, 2];

export function readCuts(size: P3, features: readonly Feature[]): Cuts {
  const cuts: Cuts = { holes: [], boxes: [], tapers: [], flares: [] };
  for (const f of features) {
    const from = place(f.from);
    const to = place(f.to);
    if (f.shape === "cylinder") {
      const hole = bore(size, from, to, (f.diameter ?? 0) / 2);
      if (hole) cuts.holes.push(hole);
    } else if (f.kind === "taper") {
      const taper = readTaper(size, from, to);
      if (taper) cuts.tapers.push(taper);
    } else {
      const box = { low: from, high: to, adds: f.adds };
      if (f.flare) readFlare(cuts, size, box, place(f.out), f.flare);
      else readBox(cuts, size, box, f.rounded === true);
    }
  }
  return cuts;
}

const place = (p: readonly number[]): P3 => [p[0] ?? 0, p[1] ?? 0, p[2] ?? 0];

/** A bore opens on the side that its open end lies on and that it goes away from. */
function bore(size: P3, from: P3, to: P3, radius: number): Hole | null {
  const along = minus(to, from);
  const depth = Math.hypot(...along);
  if (depth < SAME || radius < SAME) return null;
  let side: Side | null = null;
  let steepest = 0;
  for (const axis of AXES) {
    const into = along[axis] / depth;
    const here: Side = { axis, high: into < 0 };
    const onSide = Math.abs(from[axis] - (here.high ? size[axis] : 0)) < SAME;
    if (onSide && Math.abs(into) > steepest) {
      side = here;
      steepest = Math.abs(into);
    }
  }
  if (!side) return null;
  const { axis } = side;
  const far = side.high ? 0 : size[axis];
  const through = side.high ? to[axis] <= SAME : to[axis] >= size[axis] - SAME;
  const circle = circleAround(along, radius);
  // Each line of the wall is parallel to the bore; it starts on the side and ends on the floor.
  const onPlane = (p: P3, level: number): P3 => {
    const share = (level - p[axis]) / along[axis];
    return [p[0] + along[0] * share, p[1] + along[1] * share, p[2] + along[2] * share];
  };
  const rim = circle.map((c) => onPlane(plus(from, c), from[axis]));
  const floor = circle.map((c) => (through ? onPlane(plus(to, c), far) : plus(to, c)));
  return { side, rim, floor, through, adds: false, round: true };
}

/** Points on a circle around the origin, square to a direction. */
function circleAround(direction: P3, radius: number): P3[] {
  const d = unit(direction);
  const least = AXES.reduce((a, b) => (Math.abs(d[b]) < Math.abs(d[a]) ? b : a));
  const other: P3 = [0, 0, 0];
  other[least] = 1;
  const e1 = unit(cross(d, other));
  const e2 = cross(d, e1);
  return Array.from({ length: CORNERS }, (_, i) => {
    const angle = (2 * Math.PI * (i + 0.5)) / CORNERS;
    const [c, s] = [radius * Math.cos(angle), radius * Math.sin(angle)];
    return [e1[0] * c + e2[0] * s, e1[1] * c + e2[1] * s, e1[2] * c + e2[2] * s];
  });
}

/**
 * A box that opens on one side only, or goes straight through, is a hole; one that stands clear on a side
 * is a peg. Everything else, such as a groove that runs out, stays a box.
 */
function readBox(cuts: Cuts, size: P3, box: Box, rounded: boolean): void {
  const sides: Side[] = [];
  for (const axis of AXES) {
    const [low, high, limit] = [box.low[axis], box.high[axis], size[axis]];
    if (box.adds ? high <= SAME : low <= SAME) sides.push({ axis, high: false });
    if (box.adds ? low >= limit - SAME : high >= limit - SAME) sides.push({ axis, high: true });
  }
  const [first, second] = sides;
  const through = sides.length === 2 && first?.axis === second?.axis && !box.adds;
  const side = sides.length === 1 || through ? first : undefined;
  if (!side || (box.adds && !insideOf(size, box, side.axis))) {
    if (box.adds || within(size, box)) cuts.boxes.push(box);
    return;
  }
  const start = side.high ? size[side.axis] : 0;
  const end = side.high === box.adds ? box.high[side.axis] : box.low[side.axis];
  const limited = through ? (side.high ? 0 : size[side.axis]) : end;
  const outline = rounded ? oblong : rectangle;
  cuts.holes.push({
    side,
    rim: outline(box, side.axis, start),
    floor: outline(box, side.axis, limited),
    through,
    adds: box.adds,
    round: rounded,
  });
}

/** A tail stays a box, whose corners are moved when the surface is made. */
function readFlare(cuts: Cuts, size: P3, box: Box, out: P3, by: number): void {
  if (!box.adds && !within(size, box)) return;
  cuts.boxes.push(box);
  const depth = AXES.reduce((a, b) => (Math.abs(out[b]) > Math.abs(out[a]) ? b : a));
  if (depth !== 1) cuts.flares.push({ box, depth, farHigh: out[depth] > 0 === box.adds, by });
}

/** The outline of a box with half-round ends, as a cutter leaves it, on a plane square to an axis. */
function oblong(box: Box, axis: Axis, level: number): P3[] {
  const [u, v] = [((axis + 1) % 3) as Axis, ((axis + 2) % 3) as Axis];
  const [long, wide]: [Axis, Axis] = box.high[u] - box.low[u] >= box.high[v] - box.low[v] ? [u, v] : [v, u];
  const radius = (box.high[wide] - box.low[wide]) / 2;
  const middle = (box.low[wide] + box.high[wide]) / 2;
  const half = CORNERS / 2;
  const points: P3[] = [];
  for (const [end, from] of [
    [box.high[long] - radius, -Math.PI / 2],
    [box.low[long] + radius, Math.PI / 2],
  ] as const) {
    for (let i = 0; i <= half; i++) {
      const angle = from + (Math.PI * i) / half;
      const p: P3 = [level, level, level];
      p[long] = end + radius * Math.cos(angle);
      p[wide] = middle + radius * Math.sin(angle);
      points.push(p);
    }
  }
  // A round hole has no straight sides: its two half circles share their ends.
  return box.high[long] - box.low[long] - 2 * radius < SAME
    ? points.filter((_, i) => i !== half && i !== 2 * half + 1)
    : points;
}

/** The rectangle of a box on a plane square to an axis. */
function rectangle(box: Box, axis: Axis, level: number): P3[] {
  const [u, v] = [((axis + 1) % 3) as Axis, ((axis + 2) % 3) as Axis];
  return [
    [box.low[u], box.low[v]],
    [box.high[u], box.low[v]],
    [box.high[u], box.high[v]],
    [box.low[u], box.high[v]],
  ].map(([a = 0, b = 0]) => {
    const p: P3 = [level, level, level];
    p[u] = a;
    p[v] = b;
    return p;
  });
}

/** Tells whether a box lies clear inside the outline of the sides that an axis is square to. */
function insideOf(size: P3, box: Box, axis: Axis): boolean {
  return AXES.every((k) => k === axis || (box.low[k] > SAME && box.high[k] < size[k] - SAME));
}

/** Tells whether any of a box lies in the part. */
function within(size: P3, box: Box): boolean {
  return AXES.every((k) => box.high[k] > SAME && box.low[k] < size[k] - SAME);
}

/**
 * A taper comes as the box that its wedge fits in. The side it is planed on is the one it touches across
 * the grain, where it does not reach the opposite side; the thin end is the end of the part that it reaches.
 */
function readTaper(size: P3, from: P3, to: P3): Taper | null {
  for (const axis of [1, 2] as const) {
    const [low, high] = [from[axis] <= SAME, to[axis] >= size[axis] - SAME];
    if (low === high) continue;
    const depth = to[axis] - from[axis];
    const side = { axis, high };
    if (from[0] <= SAME) return { side, from: to[0], to: 0, depth };
    return { side, from: from[0], to: to[0], depth };
  }
  return null;
}

export const minus = (a: P3, b: P3): P3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const plus = (a: P3, b: P3): P3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];

export const cross = (a: P3, b: P3): P3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** A vector of length one; the zero vector stays what it is. */
export function unit(a: P3): P3 {
  const length = Math.hypot(...a) || 1;
  return [a[0] / length, a[1] / length, a[2] / length];
}
