// The surface of a part as the server sends it: that of a part with sides at an angle, which the mesher does not make.

import type { Surface } from "../api/types";
import { cross, minus, type P3, unit } from "./cuts";
import type { Mesh } from "./mesher";

export function sentMesh(surface: Surface): Mesh {
  const positions = new Float32Array(surface.triangles);
  const normals = new Float32Array(positions.length);
  const corner = (i: number): P3 => [positions[i] ?? 0, positions[i + 1] ?? 0, positions[i + 2] ?? 0];
  for (let i = 0; i < positions.length; i += 9) {
    const [a, b, c] = [corner(i), corner(i + 3), corner(i + 6)];
    const normal = unit(cross(minus(b, a), minus(c, a)));
    for (let k = 0; k < 9; k += 3) normals.set(normal, i + k);
  }
  const [sides = 0, cuts = 0, pegs = 0] = surface.counts;
  return {
    positions,
    normals,
    index: Uint32Array.from({ length: positions.length / 3 }, (_, i) => i),
    counts: [sides * 3, cuts * 3, pegs * 3],
    lines: new Float32Array(surface.lines),
  };
}
