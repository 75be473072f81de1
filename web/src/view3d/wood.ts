// How wood looks: year rings around a pith that runs along the grain, so that ends show arcs and sides show
// lines, without a picture file. Colours are written as they appear on the screen.

import { Color, DoubleSide, ShaderMaterial, Vector2, Vector3 } from "three";
import type { ScenePart } from "../api/types";

/** Colours of early and late wood by words in the name of a species. */
const KINDS: [RegExp, string, string][] = [
  [/oak|ash|elm|chestnut/i, "#d9bb8c", "#b28d58"],
  [/walnut/i, "#8e6a4c", "#5f432d"],
  [/cherry|mahogany/i, "#c68c62", "#9e6440"],
  [/maple|birch|beech|poplar|basswood|lime/i, "#ead4b0", "#d0b083"],
  [/cedar|redwood|larch|douglas/i, "#d9a374", "#ad6f42"],
];
const PINE: [string, string] = ["#edd0a0", "#cd9c5f"];

/** Colours of the marks that the view makes. */
export interface Marks {
  picked: string;
  cut: string;
}

const vertex = `
varying vec3 vPlace;
varying vec3 vGrainNormal;
varying vec3 vNormalOut;
void main() {
  vPlace = position;
  vGrainNormal = normal;
  vNormalOut = normalize(mat3(modelMatrix) * normal);
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}`;

// Rings fade where they would be narrower than a pixel; broad bands stay, so that a top seen from afar is not bare. Light comes from the upper left, as on a drawing.
const fragment = `
uniform vec3 early, late, mark, light;
uniform vec2 pith;
uniform float marked, inside, alpha;
uniform float glueAxis, gluePitch, glueCount;
varying vec3 vPlace;
varying vec3 vGrainNormal;
varying vec3 vNormalOut;
void main() {
  // A part that is glued up has a pith of its own in every piece, and a fine line where two meet.
  float place = glueAxis > 1.5 ? vPlace.z : vPlace.y;
  float piece = glueAxis < 0.5 ? 0.0 : clamp(floor(place / gluePitch), 0.0, glueCount - 1.0);
  vec2 own = piece * vec2(37.0, -53.0);
  own = 90.0 * (fract(own * 0.113) - 0.5) * step(0.5, glueAxis);
  vec2 across = vPlace.yz - pith - own;
  across += 3.0 * vec2(sin(vPlace.x * 0.011 + pith.x), cos(vPlace.x * 0.008 + pith.y));
  float rings = length(across) / 5.5;
  float width = fwidth(rings);
  float ring = smoothstep(0.45, 0.95, fract(rings)) * (1.0 - smoothstep(0.96, 1.0, fract(rings)));
  ring = mix(ring, 0.28, smoothstep(0.25, 0.7, width));
  vec3 color = mix(early, late, ring * 0.75);
  float broad = 0.5 + 0.5 * sin(length(across) * 0.13 + 2.0 * sin(vPlace.x * 0.004 + pith.y));
  color *= 1.0 - 0.06 * broad;
  float seam = floor(place / gluePitch + 0.5);
  float far = abs(place - seam * gluePitch);
  float thick = max(0.35, 0.7 * fwidth(place));
  float glued = step(0.5, glueAxis) * step(0.5, seam) * step(seam, glueCount - 0.5) * (1.0 - smoothstep(0.5 * thick, thick, far));
  color *= 1.0 - 0.45 * glued;
  float endGrain = smoothstep(0.7, 0.95, abs(vGrainNormal.x));
  color *= mix(1.0, 0.8, endGrain);
  color *= mix(1.0, 0.55, inside);
  color = mix(color, mark, marked);
  vec3 n = normalize(vNormalOut) * (gl_FrontFacing ? 1.0 : -1.0);
  float lit = 0.72 + 0.3 * max(dot(n, light), 0.0) + 0.06 * n.z;
  gl_FragColor = vec4(color * lit, alpha);
}`;

const light = new Vector3(-0.45, -0.7, 0.85).normalize();

type Glued = NonNullable<ScenePart["glued"]>;

/** The material of a part. The seed places its pith, so that no two parts look cut from one place. */
export function wood(species: string, seed: number, inside: boolean, glued?: Glued): ShaderMaterial {
  const [, early, late] = KINDS.find(([words]) => words.test(species)) ?? [null, ...PINE];
  return new ShaderMaterial({
    vertexShader: vertex,
    fragmentShader: fragment,
    side: DoubleSide,
    // Lines along edges stand just before the surface.
    polygonOffset: true,
    polygonOffsetFactor: 1,
    polygonOffsetUnits: 1,
    uniforms: {
      early: { value: plain(early) },
      late: { value: plain(late) },
      mark: { value: new Vector3() },
      light: { value: light },
      pith: { value: new Vector2(-30 - 90 * fraction(seed), -40 + 80 * fraction(seed * 7.31)) },
      marked: { value: 0 },
      inside: { value: inside ? 1 : 0 },
      alpha: { value: 1 },
      glueAxis: { value: glued ? (glued.across === "width" ? 1 : 2) : 0 },
      gluePitch: { value: glued?.at[0] ?? 1 },
      glueCount: { value: (glued?.at.length ?? 0) + 1 },
    },
  });
}

/** Marks a material, or takes the mark off with a share of 0. */
export function mark(material: ShaderMaterial, color: string, share: number): void {
  material.uniforms.mark = { value: plain(color) };
  material.uniforms.marked = { value: share };
}

export function fade(material: ShaderMaterial, alpha: number): void {
  material.uniforms.alpha = { value: alpha };
  material.transparent = alpha < 1;
  material.depthWrite = alpha >= 1;
  material.needsUpdate = true;
}

/** A colour as it appears, not as light adds up. */
function plain(color: string): Vector3 {
  const c = new Color(color).convertLinearToSRGB();
  return new Vector3(c.r, c.g, c.b);
}

const fraction = (x: number) => x - Math.floor(x);

/** A number from 0 to 1 made from a name, always the same. */
export function seedOf(name: string): number {
  let hash = 2166136261;
  for (let i = 0; i < name.length; i++) hash = Math.imul(hash ^ name.charCodeAt(i), 16777619);
  return (hash >>> 0) / 4294967296;
}
