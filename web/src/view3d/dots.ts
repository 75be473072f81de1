// A dot for each joint, seen through the wood, so that it can be pressed.

import { BufferAttribute, BufferGeometry, type Camera, Color, Points, ShaderMaterial, Vector3 } from "three";
import type { SceneJoint } from "../api/types";

/** Size of a dot, and how near to it a press counts, px. */
const SIZE = 11;
const NEAR = 16;

export class JointDots {
  readonly points = new Points(
    new BufferGeometry(),
    new ShaderMaterial({
      vertexShader: `uniform float size;
void main() {
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
  gl_PointSize = size;
}`,
      fragmentShader: `uniform vec3 color;
void main() {
  float far = 2.0 * length(gl_PointCoord - 0.5);
  if (far > 1.0) discard;
  gl_FragColor = vec4(far > 0.7 ? vec3(1.0) : color, 0.9);
}`,
      depthTest: false,
      transparent: true,
      uniforms: { color: { value: new Vector3() }, size: { value: SIZE } },
    }),
  );
  private joints: readonly SceneJoint[] = [];

  constructor() {
    this.points.renderOrder = 9;
    this.points.visible = false;
  }

  show(joints: readonly SceneJoint[]): void {
    this.joints = joints;
    this.points.geometry.dispose();
    this.points.geometry = new BufferGeometry();
    const places = new Float32Array(joints.flatMap((j) => [...j.at]));
    this.points.geometry.setAttribute("position", new BufferAttribute(places, 3));
  }

  color(color: string): void {
    const c = new Color(color).convertLinearToSRGB();
    this.points.material.uniforms.color = { value: new Vector3(c.r, c.g, c.b) };
  }

  /** Says how many dots of the canvas one px has. */
  scale(ratio: number): void {
    this.points.material.uniforms.size = { value: SIZE * ratio };
  }

  /** The name of the joint at a place of the screen, "" for none. */
  at(box: DOMRect, x: number, y: number, camera: Camera): string {
    let best = "";
    let nearest = NEAR;
    for (const joint of this.joints) {
      const p = new Vector3(joint.at[0], joint.at[1], joint.at[2]).project(camera);
      const far = Math.hypot(
        box.left + ((p.x + 1) / 2) * box.width - x,
        box.top + ((1 - p.y) / 2) * box.height - y,
      );
      if (far < nearest) [best, nearest] = [joint.name, far];
    }
    return best;
  }

  dispose(): void {
    this.points.geometry.dispose();
    this.points.material.dispose();
  }
}
