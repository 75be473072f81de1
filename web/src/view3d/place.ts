// A place in space that is marked: a box that is seen through the wood, with a cross of long lines that leads to it.

import {
  BoxGeometry,
  BufferAttribute,
  BufferGeometry,
  EdgesGeometry,
  Group,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshBasicMaterial,
} from "three";

/** A box around a place, in mm. */
export interface Place {
  from: readonly number[];
  to: readonly number[];
}

/** How far the lines that lead to a place reach beyond it, mm. */
const REACH = 60;

export class PlaceMark {
  readonly group = new Group();
  private readonly fill = new Mesh(
    new BoxGeometry(1, 1, 1),
    new MeshBasicMaterial({ transparent: true, opacity: 0.55, depthTest: false }),
  );
  private readonly edges = new LineSegments(
    new EdgesGeometry(new BoxGeometry(1, 1, 1)),
    new LineBasicMaterial({ depthTest: false }),
  );
  private readonly cross = new LineSegments(
    new BufferGeometry(),
    new LineBasicMaterial({ depthTest: false }),
  );

  constructor() {
    for (const part of [this.fill, this.edges, this.cross]) {
      part.renderOrder = 10;
      this.group.add(part);
    }
    this.group.visible = false;
  }

  show(place: Place | null): void {
    this.group.visible = place !== null;
    if (!place) return;
    const middle = [0, 1, 2].map((k) => ((place.from[k] ?? 0) + (place.to[k] ?? 0)) / 2);
    const size = [0, 1, 2].map((k) => Math.max((place.to[k] ?? 0) - (place.from[k] ?? 0), 1));
    for (const part of [this.fill, this.edges]) {
      part.position.fromArray(middle);
      part.scale.fromArray(size);
    }
    const ends: number[] = [];
    for (let k = 0; k < 3; k++) {
      for (const sign of [-1, 1]) {
        const near = [...middle];
        const far = [...middle];
        near[k] = (middle[k] ?? 0) + (sign * (size[k] ?? 0)) / 2;
        far[k] = (near[k] ?? 0) + sign * REACH;
        ends.push(...near, ...far);
      }
    }
    this.cross.geometry.dispose();
    this.cross.geometry = new BufferGeometry();
    this.cross.geometry.setAttribute("position", new BufferAttribute(new Float32Array(ends), 3));
    this.group.updateMatrixWorld(true);
  }

  color(color: string): void {
    for (const part of [this.fill, this.edges, this.cross]) part.material.color.set(color);
  }

  dispose(): void {
    for (const part of [this.fill, this.edges, this.cross]) {
      part.geometry.dispose();
      part.material.dispose();
    }
  }
}
