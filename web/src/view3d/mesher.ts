// Makes the surface of a part from its size and features, in the part's own frame. The surface is closed
// and exact while cuts do not run into each other: every edge belongs to two triangles, and the volume is
// that of the part less what is cut. A hole whose rim does not lie free on one flat side, such as one that
// breaks out over an edge, is drawn on top without an opening.

import type { Feature } from "../api/types";
import { cross, type Flare, type Hole, minus, type P3, readCuts, SAME, type Taper, unit } from "./cuts";
import { type Region, regionsOf, uvOf } from "./grid";
import { contains, doubleArea, overlap, type P2, triangulate } from "./polygon";

/** What a triangle shows: a side of the part, the inside of a cut, or wood that stands out. */
export const SIDE = 0;
export const CUT = 1;
export const PEG = 2;

export interface Mesh {
  positions: Float32Array;
  normals: Float32Array;
  /** Corners of triangles, those of sides first, then of cuts, then of pegs. */
  index: Uint32Array;
  /** How many entries of index each of the three has. */
  counts: [number, number, number];
  /** Ends of the lines along edges, in pairs. */
  lines: Float32Array;
}

export function meshPart(size: P3, features: readonly Feature[]): Mesh {
  const cuts = readCuts(size, features);
  const splits = [...new Set(cuts.tapers.flatMap((t) => [t.from, t.to]))].filter((x) => x > 0 && x < size[0]);
  const taper = tapering(size, cuts.tapers);
  const flare = flaring(cuts.flares);
  const bend = (p: P3) => taper(flare(p));
  const surface = new Surface(bend);
  const regions = regionsOf(size, cuts.boxes, splits);
  const rims = new Map<Region, P3[][]>();
  const loose = cuts.holes.filter((hole) => !openInto(regions, rims, hole));
  for (const region of regions) surface.addRegion(region, rims.get(region) ?? []);
  for (const hole of cuts.holes) surface.addWall(hole, loose.includes(hole));
  return surface.mesh();
}

/** Opens the rim of a hole in the region it lies in, and where it comes out; false when it lies free in none. */
function openInto(regions: Region[], rims: Map<Region, P3[][]>, hole: Hole): boolean {
  const { axis, high } = hole.side;
  const start = freeRegion(regions, rims, axis, high, hole.rim);
  const end = hole.through ? freeRegion(regions, rims, axis, !high, hole.floor) : start;
  if (!start || !end) return false;
  rims.set(start, [...(rims.get(start) ?? []), hole.rim]);
  if (hole.through) rims.set(end, [...(rims.get(end) ?? []), hole.floor]);
  return true;
}

function freeRegion(
  regions: Region[],
  rims: Map<Region, P3[][]>,
  axis: 0 | 1 | 2,
  high: boolean,
  rim: P3[],
): Region | undefined {
  const flat = flatten(axis, rim);
  return regions.find(
    (r) =>
      r.axis === axis &&
      r.high === high &&
      r.onSide &&
      flat.every((p) => contains(r.outline, p)) &&
      !r.holes.some((h) => overlap(h, flat)) &&
      !(rims.get(r) ?? []).some((other) => overlap(flatten(axis, other), flat)),
  );
}

function flatten(axis: 0 | 1 | 2, points: P3[]): P2[] {
  const [u, v] = uvOf(axis);
  return points.map((p) => [p[u], p[v]]);
}

/** Where a place in the straight part comes to lie in the tapered one. */
function tapering(size: P3, tapers: Taper[]): (p: P3) => P3 {
  if (tapers.length === 0) return (p) => p;
  return (p) => {
    const out: P3 = [...p];
    for (const axis of [1, 2] as const) {
      const taken = (high: boolean) =>
        tapers
          .filter((t) => t.side.axis === axis && t.side.high === high)
          .reduce((sum, t) => sum + t.depth * Math.min(1, Math.max(0, (p[0] - t.from) / (t.to - t.from))), 0);
      const low = taken(false);
      out[axis] = low + (p[axis] * (size[axis] - low - taken(true))) / size[axis];
    }
    return out;
  };
}

/** Where a corner of a tail or socket comes to lie: further from its middle the nearer it is to the far end. */
function flaring(flares: Flare[]): (p: P3) => P3 {
  if (flares.length === 0) return (p) => p;
  return (p) => {
    for (const { box, depth, farHigh, by } of flares) {
      const [low, high] = [box.low[depth], box.high[depth]];
      const beside = 3 - depth - 1; // the axis that is neither the depth nor the width
      const inside = [depth, beside].every(
        (k) =>
          p[k as 0 | 1 | 2] > box.low[k as 0 | 1 | 2] - SAME &&
          p[k as 0 | 1 | 2] < box.high[k as 0 | 1 | 2] + SAME,
      );
      if (!inside) continue;
      const share = farHigh ? (p[depth] - low) / (high - low) : (high - p[depth]) / (high - low);
      if (Math.abs(p[1] - box.low[1]) < SAME) return [p[0], p[1] - by * share, p[2]];
      if (Math.abs(p[1] - box.high[1]) < SAME) return [p[0], p[1] + by * share, p[2]];
    }
    return p;
  };
}

/** Collects triangles and lines. */
class Surface {
  private readonly positions: number[] = [];
  private readonly normals: number[] = [];
  private readonly faces: [number[], number[], number[]] = [[], [], []];
  private readonly lines: number[] = [];
  private readonly drawn = new Set<string>();

  constructor(private readonly bend: (p: P3) => P3) {}

  addRegion(region: Region, rims: P3[][]): void {
    const { axis, high, level } = region;
    const [u, v] = uvOf(axis);
    const raise = (p: P2): P3 => {
      const q: P3 = [0, 0, 0];
      q[axis] = level;
      q[u] = p[0];
      q[v] = p[1];
      return q;
    };
    const holes = [...region.holes, ...rims.map((rim) => flatten(axis, rim))];
    const points = [...region.outline, ...holes.flat()].map(raise);
    const kind = region.onPeg ? PEG : region.onSide ? SIDE : CUT;
    for (const [a, b, c] of triangulate(region.outline, holes)) {
      const [p, q, r] = [points[a], points[b], points[c]];
      if (p && q && r) this.addFlat(kind, high ? [p, q, r] : [p, r, q]);
    }
    for (const loop of [region.outline, ...region.holes]) this.addLoop(loop.map(raise), true);
  }

  /** Adds the wall and floor of a hole or peg; one that is loose also gets a dark lid over its mouth. */
  addWall(hole: Hole, loose: boolean): void {
    const { rim, floor } = outward(hole);
    const kind = hole.adds ? PEG : CUT;
    const n = rim.length;
    const wallNormals = hole.round ? roundNormals(rim, floor) : undefined;
    for (let i = 0; i < n; i++) {
      const j = (i + 1) % n;
      const [p, q, pDown, qDown] = [rim[i], rim[j], floor[i], floor[j]];
      if (!p || !q || !pDown || !qDown) continue;
      const [pn, qn] = [wallNormals?.[i], wallNormals?.[j]];
      this.addFlat(kind, [p, q, qDown], pn && qn ? [pn, qn, qn] : undefined);
      this.addFlat(kind, [p, qDown, pDown], pn && qn ? [pn, qn, pn] : undefined);
      if (!hole.round) this.addLine(p, pDown);
    }
    if (!hole.through) this.addFan(kind, floor);
    if (loose) this.addFan(CUT, lifted(hole, rim));
    this.addLoop(rim, false);
    this.addLoop(floor, false);
  }

  private addFan(kind: 0 | 1 | 2, polygon: P3[]): void {
    const [first] = polygon;
    for (let i = 1; i + 1 < polygon.length; i++) {
      const [p, q] = [polygon[i], polygon[i + 1]];
      if (first && p && q) this.addFlat(kind, [first, p, q]);
    }
  }

  /** Adds a triangle; without normals it is flat. */
  private addFlat(kind: 0 | 1 | 2, corners: [P3, P3, P3], normals?: [P3, P3, P3]): void {
    const [a, b, c] = [this.bend(corners[0]), this.bend(corners[1]), this.bend(corners[2])];
    const [an, bn, cn] = normals ?? flatNormals(a, b, c);
    this.addCorner(kind, a, an);
    this.addCorner(kind, b, bn);
    this.addCorner(kind, c, cn);
  }

  private addCorner(kind: 0 | 1 | 2, p: P3, normal: P3): void {
    this.faces[kind].push(this.positions.length / 3);
    this.positions.push(p[0], p[1], p[2]);
    this.normals.push(normal[0], normal[1], normal[2]);
  }

  /** Draws around a loop; the lines of a shared loop belong to two regions and are drawn once. */
  private addLoop(loop: P3[], shared: boolean): void {
    loop.forEach((p, i) => {
      const q = loop[(i + 1) % loop.length] ?? p;
      if (!shared || this.isNew(p, q)) this.addLine(p, q);
    });
  }

  private isNew(a: P3, b: P3): boolean {
    const key = [a, b].map(String).sort().join(" ");
    if (this.drawn.has(key)) return false;
    this.drawn.add(key);
    return true;
  }

  private addLine(from: P3, to: P3): void {
    this.lines.push(...this.bend(from), ...this.bend(to));
  }

  mesh(): Mesh {
    return {
      positions: new Float32Array(this.positions),
      normals: new Float32Array(this.normals),
      index: new Uint32Array(this.faces.flat()),
      counts: [this.faces[0].length, this.faces[1].length, this.faces[2].length],
      lines: new Float32Array(this.lines),
    };
  }
}

/** The rim and floor of a hole in the order that runs against the clock when seen from outside. */
function outward(hole: Hole): { rim: P3[]; floor: P3[] } {
  const area = doubleArea(flatten(hole.side.axis, hole.rim));
  if (area > 0 === hole.side.high) return hole;
  return { rim: hole.rim.toReversed(), floor: hole.floor.toReversed() };
}

function flatNormals(a: P3, b: P3, c: P3): [P3, P3, P3] {
  const normal = unit(cross(minus(b, a), minus(c, a)));
  return [normal, normal, normal];
}

/** Normals of a smooth wall, toward the middle of the hole. */
function roundNormals(rim: P3[], floor: P3[]): P3[] {
  return rim.map((p, i) => {
    const n = rim.length;
    const [before, after, down] = [rim[(i + n - 1) % n] ?? p, rim[(i + 1) % n] ?? p, floor[i] ?? p];
    return unit(cross(minus(after, before), minus(down, p)));
  });
}

/** How far the lid of a loose hole stands before the wood, so that it is seen, mm. */
const LID = 0.2;

function lifted(hole: Hole, rim: P3[]): P3[] {
  const { axis, high } = hole.side;
  return rim.map((p) => {
    const q: P3 = [...p];
    q[axis] += high ? LID : -LID;
    return q;
  });
}
