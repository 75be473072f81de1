// How a part bends: its surface is cut at the sections that the server sent, so that it can curve, and each corner
// moves with the section that it lies in. Knows nothing of drawing.

import type { BentPart } from "../api/types";
import type { Mesh } from "./mesher";

/** A surface cut at sections: corners of triangles and ends of lines one by one, without an index. */
export interface Cut {
  positions: Float32Array;
  normals: Float32Array;
  /** How many corners sides, cuts and pegs have. */
  counts: [number, number, number];
  lines: Float32Array;
}

type Corner = readonly number[]; // x, y, z and whatever goes with it

/** Cuts a surface at equal steps along a part of a length. */
export function cutAtSections(mesh: Mesh, length: number, steps: number): Cut {
  const places = Array.from({ length: steps - 2 }, (_, k) => (length * (k + 1)) / (steps - 1));
  const positions: number[] = [];
  const normals: number[] = [];
  const counts: [number, number, number] = [0, 0, 0];
  let at = 0;
  mesh.counts.forEach((count, kind) => {
    for (let i = at; i < at + count; i += 3) {
      const corners = [0, 1, 2].map((k) => {
        const v = (mesh.index[i + k] ?? 0) * 3;
        return [...mesh.positions.subarray(v, v + 3), ...mesh.normals.subarray(v, v + 3)];
      });
      for (const ring of slabs(corners, places)) {
        for (let k = 1; k + 1 < ring.length; k++) {
          for (const c of [ring[0], ring[k], ring[k + 1]] as Corner[]) {
            positions.push(...c.slice(0, 3));
            normals.push(...c.slice(3));
          }
          counts[kind] = (counts[kind] ?? 0) + 3;
        }
      }
    }
    at += count;
  });
  const lines: number[] = [];
  for (let i = 0; i < mesh.lines.length; i += 6) {
    const ends = [[...mesh.lines.subarray(i, i + 3)], [...mesh.lines.subarray(i + 3, i + 6)]];
    for (const piece of slabs(ends, places)) {
      if (piece.length >= 2) lines.push(...(piece[0] as Corner), ...(piece[1] as Corner));
    }
  }
  return {
    positions: new Float32Array(positions),
    normals: new Float32Array(normals),
    counts,
    lines: new Float32Array(lines),
  };
}

/** Cuts a convex ring of corners, or a line between two, at places along x. */
function slabs(ring: Corner[], places: readonly number[]): Corner[][] {
  const out: Corner[][] = [];
  let rest = ring;
  for (const x of places) {
    if (rest.length === 0) break;
    if (rest.every((c) => (c[0] ?? 0) >= x)) continue;
    if (rest.every((c) => (c[0] ?? 0) <= x)) break;
    out.push(side(rest, x, false));
    rest = side(rest, x, true);
  }
  if (rest.length > 0) out.push(rest);
  return out;
}

/** What of a ring lies below or above a place along x. */
function side(ring: Corner[], x: number, above: boolean): Corner[] {
  const inside = (c: Corner) => (above ? (c[0] ?? 0) >= x : (c[0] ?? 0) <= x);
  const open = ring.length === 2; // a line has one stretch, a ring comes round
  const out: Corner[] = [];
  ring.forEach((c, i) => {
    if (inside(c)) out.push(c);
    const next = ring[(i + 1) % ring.length];
    if (!next || (open && i === 1) || inside(c) === inside(next)) return;
    const share = (x - (c[0] ?? 0)) / ((next[0] ?? 0) - (c[0] ?? 0));
    if (share > 0 && share < 1) out.push(c.map((v, k) => v + ((next[k] ?? v) - v) * share));
  });
  return out;
}

/** Moves corners from where they stand without load; times says how much larger than it is. */
export function bend(
  from: Float32Array,
  to: Float32Array,
  size: readonly number[],
  part: BentPart,
  times: number,
): void {
  const [length = 1, width = 0, thickness = 0] = size;
  const last = part.steps.length - 1;
  for (let i = 0; i < from.length; i += 3) {
    const x = from[i] ?? 0;
    const y = (from[i + 1] ?? 0) - width / 2;
    const z = (from[i + 2] ?? 0) - thickness / 2;
    const place = (x / length) * last;
    const k = Math.min(Math.max(Math.floor(place), 0), last - 1);
    const share = place - k;
    const mix = (of: "shift" | "turn", d: number) => {
      const a = part.steps[k]?.[of][d] ?? 0;
      return a + ((part.steps[k + 1]?.[of][d] ?? a) - a) * share;
    };
    const [rx, ry, rz] = [mix("turn", 0), mix("turn", 1), mix("turn", 2)];
    to[i] = x + times * (mix("shift", 0) + ry * z - rz * y);
    to[i + 1] = y + width / 2 + times * (mix("shift", 1) - rx * z);
    to[i + 2] = z + thickness / 2 + times * (mix("shift", 2) + rx * y);
  }
}

/** Share of the full movement at a time in ms while the load comes and goes. */
export function swing(time: number): number {
  return 0.5 - 0.5 * Math.cos((2 * Math.PI * time) / SWING);
}

/** How long the load takes to come and go, ms. Judgement: slow enough to follow each part. */
const SWING = 2600;

/** The time at which the whole load acts. */
export const FULL = SWING / 2;
