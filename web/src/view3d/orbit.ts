// Where the piece is looked at from. The eye goes round the middle of the piece; pointers, the wheel and the
// keyboard move it.

import { PerspectiveCamera, Vector3 } from "three";

/** Angle of view, degrees. Judgement: narrow, so that edges look nearly parallel, as on a drawing. */
const ANGLE = 24;

/** Room for the ball around the piece. A piece never fills its ball, so this is less than one. */
const ROOM = 0.84;

/** Height that buttons take at the foot of the view, px. The piece is framed above them. */
const FOOT = 56;

/** A view lower than this has no buttons over it, px. The same height stands in style/bench.css. */
const LOW = 130;

const STEP = Math.PI / 24;
const STEEPEST = Math.PI / 2 - 0.001;
const NEAREST = 0.25;
const FARTHEST = 3;

export type From = "corner" | "front" | "side" | "top" | "below" | "grain";

const PLACES: Record<Exclude<From, "grain">, [number, number]> = {
  corner: [-0.62, 0.42],
  front: [0, 0.02],
  side: [Math.PI / 2, 0.02],
  top: [0, STEEPEST],
  below: [-0.62, -0.5],
};

export class Orbit {
  readonly camera = new PerspectiveCamera(ANGLE, 1, 10, 100000);
  private around = PLACES.corner[0]; // 0 is from the front, rising to the right
  private above = PLACES.corner[1];
  private zoom = 1;
  private readonly middle = new Vector3();
  private radius = 1;
  private free = 1; // share of the height that is free for the piece
  private readonly shift = new Vector3();

  constructor(private readonly changed: () => void) {
    this.camera.up.set(0, 0, 1);
  }

  /** Looks at a ball around the piece. */
  frame(middle: Vector3, radius: number): void {
    this.middle.copy(middle);
    this.radius = Math.max(radius, 1);
    this.place();
  }

  get framed(): number {
    return this.radius;
  }

  shape(width: number, height: number): void {
    this.camera.aspect = width / Math.max(height, 1);
    this.free = height < LOW ? 1 : Math.max(0.5, 1 - FOOT / Math.max(height, 1));
    this.camera.setViewOffset(width, height, 0, (height * (1 - this.free)) / 2, width, height);
    this.place();
  }

  look(from: Exclude<From, "grain">): void {
    [this.around, this.above] = PLACES[from];
    this.zoom = 1;
    this.shift.set(0, 0, 0);
    this.place();
  }

  /** Looks from a direction of the world. */
  lookFrom(direction: Vector3): void {
    const d = direction.clone().normalize();
    this.around = Math.atan2(d.x, -d.y);
    this.above = Math.min(STEEPEST, Math.max(-STEEPEST, Math.asin(d.z)));
    this.zoom = 1;
    this.shift.set(0, 0, 0);
    this.place();
  }

  turn(around: number, above: number): void {
    this.around += around;
    this.above = Math.min(STEEPEST, Math.max(-STEEPEST, this.above + above));
    this.place();
  }

  closer(factor: number): void {
    this.zoom = Math.min(FARTHEST, Math.max(NEAREST, this.zoom / factor));
    this.place();
  }

  /** Moves the piece on the screen by a share of the height of the view. */
  slide(right: number, up: number): void {
    const height = 2 * this.distance() * Math.tan((ANGLE * Math.PI) / 360);
    const x = new Vector3().setFromMatrixColumn(this.camera.matrix, 0);
    const y = new Vector3().setFromMatrixColumn(this.camera.matrix, 1);
    this.shift.addScaledVector(x, -right * height).addScaledVector(y, -up * height);
    this.shift.clampLength(0, this.radius * 2);
    this.place();
  }

  private distance(): number {
    const half = (ANGLE * Math.PI) / 360;
    const narrow = Math.min(this.free, this.camera.aspect * 1.05); // a piece is rarely as wide as its ball
    return (this.radius * ROOM * this.zoom) / Math.sin(half) / narrow;
  }

  private place(): void {
    const d = this.distance();
    const flat = Math.cos(this.above) * d;
    const target = this.middle.clone().add(this.shift);
    this.camera.position.set(
      target.x + Math.sin(this.around) * flat,
      target.y - Math.cos(this.around) * flat,
      target.z + Math.sin(this.above) * d,
    );
    this.camera.near = Math.max(1, d - this.radius * 4);
    this.camera.far = d + this.radius * 8;
    this.camera.lookAt(target);
    this.camera.updateProjectionMatrix();
    this.camera.updateMatrixWorld();
    this.changed();
  }

  /** Does what a key asks for; false when it asks for nothing. */
  key(event: KeyboardEvent): boolean {
    if (event.ctrlKey || event.metaKey || event.altKey) return false;
    const moves: Record<string, () => void> = {
      ArrowLeft: () => this.turn(STEP, 0),
      ArrowRight: () => this.turn(-STEP, 0),
      ArrowUp: () => this.turn(0, STEP),
      ArrowDown: () => this.turn(0, -STEP),
      "+": () => this.closer(1.15),
      "=": () => this.closer(1.15),
      "-": () => this.closer(1 / 1.15),
      Home: () => this.look("corner"),
    };
    const move = moves[event.key];
    move?.();
    return move !== undefined;
  }
}

/** How far a pointer may move for a press to count as picking, px. */
const STILL = 5;

export interface Hands {
  orbit: Orbit;
  /** A place on the screen was picked. */
  pick: (x: number, y: number) => void;
  /** Whether the wheel alone zooms; otherwise it scrolls the page. */
  wheelZooms: () => boolean;
}

/** Lets pointers, wheel and keys on an element move the eye. Returns how to stop. */
export function listen(element: HTMLElement, { orbit, pick, wheelZooms }: Hands): () => void {
  const pointers = new Map<number, { x: number; y: number }>();
  let moved = 0;
  const stop = new AbortController();
  const on = <K extends keyof HTMLElementEventMap>(
    kind: K,
    handle: (event: HTMLElementEventMap[K]) => void,
    passive = true,
  ) => element.addEventListener(kind, handle, { signal: stop.signal, passive });

  on("pointerdown", (event) => {
    if (event.button > 1) return;
    element.setPointerCapture(event.pointerId);
    if (pointers.size === 0) moved = 0;
    pointers.set(event.pointerId, { x: event.clientX, y: event.clientY });
  });
  on("pointermove", (event) => {
    const before = pointers.get(event.pointerId);
    if (!before) return;
    const [dx, dy] = [event.clientX - before.x, event.clientY - before.y];
    moved += Math.abs(dx) + Math.abs(dy);
    const other = [...pointers].find(([id]) => id !== event.pointerId)?.[1];
    const height = element.clientHeight;
    if (other) {
      const spread = (p: { x: number; y: number }) => Math.hypot(p.x - other.x, p.y - other.y);
      orbit.closer(spread({ x: event.clientX, y: event.clientY }) / Math.max(spread(before), 1));
      orbit.slide(dx / 2 / height, -dy / 2 / height);
    } else if (event.shiftKey || event.buttons === 4) {
      orbit.slide(dx / height, -dy / height);
    } else if (moved > STILL) {
      orbit.turn((-dx / height) * Math.PI, (dy / height) * Math.PI);
    }
    pointers.set(event.pointerId, { x: event.clientX, y: event.clientY });
  });
  on("pointerup", (event) => {
    if (pointers.delete(event.pointerId) && pointers.size === 0 && moved <= STILL)
      pick(event.clientX, event.clientY);
  });
  on("pointercancel", (event) => {
    pointers.delete(event.pointerId);
    moved = STILL + 1;
  });
  on(
    "wheel",
    (event) => {
      if (!wheelZooms() && !event.ctrlKey) return;
      event.preventDefault();
      orbit.closer(Math.exp(-event.deltaY * 0.0015));
    },
    false,
  );
  on(
    "keydown",
    (event) => {
      if (orbit.key(event)) event.preventDefault();
    },
    false,
  );
  return () => stop.abort();
}
