// The piece in space. The view draws only when something changed, meshes only parts whose shape changed, and
// knows nothing of the page around it.

import {
  Box3,
  BufferAttribute,
  BufferGeometry,
  Group,
  LineBasicMaterial,
  LineSegments,
  Matrix4,
  Mesh,
  Raycaster,
  Scene,
  Sphere,
  Vector2,
  Vector3,
  WebGLRenderer,
} from "three";
import type { Bent, SceneJoint, ScenePart } from "../api/types";
import { bend, type Cut, cutAtSections, FULL, swing } from "./bend";
import { JointDots } from "./dots";
import { CUT, meshPart, PEG, SIDE } from "./mesher";
import { type From, listen, Orbit } from "./orbit";
import { type Place, PlaceMark } from "./place";
import { sentMesh } from "./sent";
import type { Stand } from "./stand";
import { fade, mark, seedOf, wood } from "./wood";

/** Colours that follow the page. */
export interface Colors {
  line: string;
  ghostLine: string; // while one sees through the wood
  floor: string;
  picked: string;
  cut: string;
  fault: string;
}

/** Distance of the lines on the floor, mm. */
const FLOOR_SQUARE = 100;

/** Event of the canvas after new parts have been drawn for the first time; for measuring. */
const DRAWN = "drawn";

/** How long nothing must be drawn before a slow machine draws finely, ms: longer than a plan takes there. */
const REST = 700;

/** How much of the wood stays when one sees through it. */
const GHOST = 0.16;

interface Drawn {
  part: ScenePart;
  shape: string; // what the mesh was made from
  group: Group;
  mesh: Mesh<BufferGeometry, ReturnType<typeof wood>[]>;
  lines: LineSegments<BufferGeometry, LineBasicMaterial>;
  surface: ReturnType<typeof meshPart>;
  cut?: Cut | undefined; // while it bends: where its corners stand without load
}

export class View {
  private readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly orbit: Orbit;
  private readonly drawn = new Map<string, Drawn>();
  private readonly floor = new LineSegments(
    new BufferGeometry(),
    new LineBasicMaterial({ transparent: true }),
  );
  private readonly spot = new PlaceMark();
  private readonly joined = new PlaceMark(); // the joint that was picked
  private readonly dots = new JointDots();
  private readonly raycaster = new Raycaster();
  private readonly stop: () => void;
  private readonly watcher: ResizeObserver;
  private apart = 0;
  private through = false;
  private picked = "";
  private alone = ""; // the part whose grain is looked along: the others would stand in the way
  private stands: ReadonlyMap<string, Stand> | null = null;
  private colors: Colors = {
    line: "#000",
    ghostLine: "#000",
    floor: "#ccc",
    picked: "#00f",
    cut: "#00f",
    fault: "#c00",
  };
  private frameAsked = false;
  private partsChanged = false;
  private bent: Bent | null = null;
  private swinging = 0; // the frame that was asked for, while the load comes and goes
  private moment = FULL; // of the coming and going, ms
  private readonly slow: boolean;
  private fine = true; // whether the canvas has the resolution for eyes at rest
  private restTimer: ReturnType<typeof setTimeout> | undefined;

  /** Fails when the browser cannot draw in 3-D. onPick gets the id of a part or the name of a joint, or "". */
  constructor(
    private readonly canvas: HTMLCanvasElement,
    onPick: (part: string, joint: string) => void,
    wheelZooms: () => boolean,
  ) {
    this.slow = drawsInSoftware();
    this.renderer = new WebGLRenderer({ canvas, antialias: !this.slow, alpha: true });
    this.orbit = new Orbit(() => this.ask());
    this.scene.add(this.floor, this.spot.group, this.joined.group, this.dots.points);
    this.stop = listen(canvas, {
      orbit: this.orbit,
      pick: (x, y) => {
        const joint = this.jointAt(x, y);
        onPick(joint ? "" : this.partAt(x, y), joint);
      },
      wheelZooms,
    });
    this.watcher = new ResizeObserver(() => this.resize());
    this.watcher.observe(canvas);
    this.resize();
  }

  setParts(parts: readonly ScenePart[]): void {
    const first = this.drawn.size === 0;
    this.partsChanged = true;
    const gone = new Set(this.drawn.keys());
    for (const part of parts) {
      gone.delete(part.id);
      this.setPart(part);
    }
    for (const id of gone) this.remove(id);
    this.place();
    this.look();
    this.reframe(first);
  }

  setApart(share: number): void {
    if (share === this.apart) return;
    this.apart = share;
    this.place();
    this.reframe(true);
  }

  /** Bends the piece by the whole load, or lets it stand straight again. */
  setBent(bent: Bent | null): void {
    this.bent = bent;
    this.moment = FULL;
    for (const drawn of this.drawn.values()) {
      const moves = bent?.parts.some((p) => p.id === drawn.part.id) ?? false;
      if (!moves && !drawn.cut) continue;
      drawn.cut = moves
        ? cutAtSections(drawn.surface, drawn.part.size[0] ?? 1, bent?.parts[0]?.steps.length ?? 2)
        : undefined;
      put(drawn);
    }
    this.bendBy(1);
  }

  /** Lets the load come and go, or holds it where it is. */
  setSwinging(swings: boolean): void {
    cancelAnimationFrame(this.swinging);
    this.swinging = 0;
    if (!swings) return;
    let last = performance.now();
    const step = (now: number) => {
      this.moment += now - last;
      last = now;
      if (this.bent) this.bendBy(swing(this.moment));
      this.swinging = requestAnimationFrame(step);
    };
    this.swinging = requestAnimationFrame(step);
  }

  private bendBy(share: number): void {
    const { bent } = this;
    for (const { part, mesh, lines, cut } of this.drawn.values()) {
      const moves = bent?.parts.find((p) => p.id === part.id);
      if (!bent || !moves || !cut) continue;
      for (const [geometry, from] of [
        [mesh.geometry, cut.positions],
        [lines.geometry, cut.lines],
      ] as const) {
        const position = geometry.getAttribute("position") as BufferAttribute;
        bend(from, position.array as Float32Array, part.size, moves, bent.times * share);
        position.needsUpdate = true;
        geometry.boundingSphere = null;
      }
    }
    this.ask();
  }

  setSeeThrough(through: boolean): void {
    this.through = through;
    this.look();
  }

  setPicked(id: string): void {
    this.picked = id;
    if (this.alone && id !== this.alone) {
      this.alone = "";
      this.reframe(true);
    }
    this.look();
  }

  /** Marks a place, or none. While one is marked the wood is seen through. */
  setPlace(place: Place | null): void {
    this.spot.show(place);
    this.look();
  }

  /** Says where the joints are, so that they can be seen and picked while one sees through the wood. */
  setJoints(joints: readonly SceneJoint[]): void {
    this.dots.show(joints);
    this.look();
  }

  /** Marks a joint, or none. */
  setJoint(joint: SceneJoint | null): void {
    this.joined.show(joint);
    this.look();
  }

  /** Moves parts from their places and makes them wider, or lets all stand as they are. */
  setStands(stands: ReadonlyMap<string, Stand> | null): void {
    const began = (stands === null) !== (this.stands === null);
    this.stands = stands;
    this.place();
    this.look();
    if (began) this.reframe(true);
  }

  setColors(colors: Colors): void {
    this.colors = colors;
    this.look();
  }

  lookFrom(from: From): void {
    if (from === "grain") {
      this.lookAlong();
      return;
    }
    this.alone = "";
    this.look();
    this.reframe(true);
    this.orbit.look(from);
  }

  /** Looks along the grain of the part that was picked, or of the largest, at its end. */
  private lookAlong(): void {
    const size = ({ part }: Drawn) => part.size.reduce((product, mm) => product * mm, 1);
    const largest = [...this.drawn.values()].sort((a, b) => size(b) - size(a))[0];
    const chosen = this.drawn.get(this.picked);
    const drawn = chosen ?? largest;
    if (!drawn) return;
    const along = vector(drawn.part.axes[0] ?? [1, 0, 0]);
    // From the front, from the right or from above: never from behind.
    if (along.y > 0.01 || (Math.abs(along.y) <= 0.01 && along.x < -0.01)) along.negate();
    if (Math.abs(along.z) > 0.99) along.z = Math.abs(along.z);
    this.reframe(true);
    this.alone = chosen?.part.id ?? "";
    if (chosen) {
      const ball = new Box3().expandByObject(chosen.group).getBoundingSphere(new Sphere());
      const [length = 1, width = 1, thickness = 1] = chosen.part.size;
      this.orbit.frame(ball.center.addScaledVector(along, length / 2), Math.hypot(width, thickness));
    }
    this.look();
    this.orbit.lookFrom(along);
  }

  turn(around: number, above: number): void {
    this.orbit.turn(around, above);
  }

  closer(factor: number): void {
    this.orbit.closer(factor);
  }

  /** The view as a picture, for paper. */
  picture(): string {
    this.draw();
    return this.canvas.toDataURL("image/png");
  }

  dispose(): void {
    this.stop();
    cancelAnimationFrame(this.swinging);
    this.watcher.disconnect();
    clearTimeout(this.restTimer);
    for (const id of [...this.drawn.keys()]) this.remove(id);
    this.floor.geometry.dispose();
    this.floor.material.dispose();
    this.spot.dispose();
    this.joined.dispose();
    this.dots.dispose();
    this.renderer.dispose();
  }

  private setPart(part: ScenePart): void {
    const shape = JSON.stringify([part.size, part.features, part.species, part.surface, part.glued]);
    let drawn = this.drawn.get(part.id);
    if (drawn?.shape !== shape) {
      this.remove(part.id);
      drawn = { part, shape, ...build(part) };
      this.drawn.set(part.id, drawn);
      this.scene.add(drawn.group);
    }
    drawn.part = part;
  }

  private remove(id: string): void {
    const drawn = this.drawn.get(id);
    if (!drawn) return;
    this.scene.remove(drawn.group);
    drawn.mesh.geometry.dispose();
    drawn.lines.geometry.dispose();
    drawn.lines.material.dispose();
    for (const material of drawn.mesh.material) material.dispose();
    this.drawn.delete(id);
  }

  /** Puts each part where it belongs, or as far off as the piece is pulled apart. */
  private place(): void {
    for (const { part, group } of this.drawn.values()) {
      const [x, y, z] = part.axes.map(vector) as [Vector3, Vector3, Vector3];
      const at = vector(part.origin).addScaledVector(vector(part.explode), this.apart);
      const stand = this.stands?.get(part.id);
      if (stand) {
        const [, width = 0, thickness = 0] = part.size;
        at.add(vector(stand.shift));
        at.addScaledVector(y, (-stand.wider * width) / 2).addScaledVector(
          z,
          (-stand.thicker * thickness) / 2,
        );
        y.multiplyScalar(1 + stand.wider);
        z.multiplyScalar(1 + stand.thicker);
      }
      group.visible = !stand?.hidden;
      group.matrix.copy(new Matrix4().makeBasis(x, y, z).setPosition(at));
      group.matrixWorldNeedsUpdate = true;
    }
    this.scene.updateMatrixWorld(true);
    this.ask();
  }

  /** Colours everything as it is to be seen now. */
  private look(): void {
    const through = this.through || this.spot.group.visible || this.joined.group.visible;
    this.dots.points.visible = through && this.apart === 0 && !this.stands;
    for (const [id, { mesh, lines }] of this.drawn) {
      const chosen = id === this.picked || (this.stands?.get(id)?.marked ?? false);
      const [side, cut, peg] = mesh.material;
      if (!side || !cut || !peg) continue;
      mark(side, this.colors.picked, chosen && this.alone === "" ? 0.45 : 0);
      mark(peg, this.colors.picked, chosen ? 0.45 : through ? 0.25 : 0);
      mark(cut, this.colors.cut, through ? 0.75 : 0);
      fade(side, through ? (chosen ? GHOST * 2.5 : GHOST) : 1);
      const own = this.alone === "" || id === this.alone;
      for (const material of own ? [cut, peg] : [side, cut, peg]) fade(material, own ? 1 : GHOST / 4);
      lines.visible = own;
      lines.material.color.set(
        chosen ? this.colors.picked : through ? this.colors.ghostLine : this.colors.line,
      );
    }
    this.floor.material.color.set(this.colors.floor);
    this.spot.color(this.colors.fault);
    this.joined.color(this.colors.picked);
    this.dots.color(this.colors.picked);
    this.ask();
  }

  /** Around all parts where they belong, or as far off as the piece is pulled apart. */
  private bounds(): Box3 {
    const box = new Box3();
    for (const { part } of this.drawn.values()) {
      const corner = vector(part.origin).addScaledVector(vector(part.explode), this.apart);
      const across = part.axes.map((axis, k) => vector(axis).multiplyScalar(part.size[k] ?? 0));
      for (let n = 0; n < 8; n++) {
        const p = corner.clone();
        across.forEach((side, k) => {
          if ((n >> k) & 1) p.add(side);
        });
        box.expandByPoint(p);
      }
    }
    return box;
  }

  /**
   * Frames the piece again: always when asked to, otherwise only when it has outgrown the view. A piece that
   * gets longer is to look longer.
   */
  private reframe(always: boolean): void {
    if (this.drawn.size === 0) return;
    const box = this.bounds();
    const ball = box.getBoundingSphere(new Sphere());
    // While it is put together, parts come from outside of the piece.
    if (this.stands) ball.radius *= 1.25;
    const outgrown = ball.radius > this.orbit.framed * 1.08 || ball.radius < this.orbit.framed * 0.6;
    if (always || outgrown) this.orbit.frame(ball.center, ball.radius);
    this.layFloor(box);
    this.ask();
  }

  /** Lays squares under the piece, a little larger than it. */
  private layFloor(box: Box3): void {
    if (this.apart > 0) {
      this.floor.visible = false;
      return;
    }
    this.floor.visible = true;
    const down = (x: number) => Math.floor(x / FLOOR_SQUARE - 1) * FLOOR_SQUARE;
    const up = (x: number) => Math.ceil(x / FLOOR_SQUARE + 1) * FLOOR_SQUARE;
    const [x0, x1, y0, y1] = [down(box.min.x), up(box.max.x), down(box.min.y), up(box.max.y)];
    const ends: number[] = [];
    const z = box.min.z - 1;
    for (let x = x0; x <= x1; x += FLOOR_SQUARE) ends.push(x, y0, z, x, y1, z);
    for (let y = y0; y <= y1; y += FLOOR_SQUARE) ends.push(x0, y, z, x1, y, z);
    this.floor.geometry.dispose();
    this.floor.geometry = new BufferGeometry();
    this.floor.geometry.setAttribute("position", new BufferAttribute(new Float32Array(ends), 3));
  }

  private partAt(x: number, y: number): string {
    const box = this.canvas.getBoundingClientRect();
    const at = new Vector2(((x - box.left) / box.width) * 2 - 1, 1 - ((y - box.top) / box.height) * 2);
    this.raycaster.setFromCamera(at, this.orbit.camera);
    const [hit] = this.raycaster.intersectObjects(
      [...this.drawn.values()].filter((d) => d.group.visible).map((d) => d.mesh),
      false,
    );
    return (hit?.object.userData.id as string | undefined) ?? "";
  }

  private jointAt(x: number, y: number): string {
    return this.dots.points.visible
      ? this.dots.at(this.canvas.getBoundingClientRect(), x, y, this.orbit.camera)
      : "";
  }

  private resize(): void {
    const { clientWidth: width, clientHeight: height } = this.canvas;
    if (width === 0 || height === 0) return;
    this.setResolution();
    this.orbit.shape(width, height);
    this.draw(); // at once: a canvas that was resized is empty
  }

  /** Changes between fine and fast drawing where the machine has no graphics of its own. */
  private refine(fine: boolean): void {
    if (!this.slow || fine === this.fine) return;
    this.fine = fine;
    this.setResolution();
    this.draw();
  }

  private setResolution(): void {
    const ratio = this.slow ? (this.fine ? 2 : 1) : Math.min(devicePixelRatio, 2);
    this.renderer.setPixelRatio(ratio);
    this.dots.scale(ratio);
    this.renderer.setSize(this.canvas.clientWidth, this.canvas.clientHeight, false);
  }

  private ask(): void {
    if (this.frameAsked) return;
    this.frameAsked = true;
    requestAnimationFrame(() => {
      this.frameAsked = false;
      if (this.fine && this.slow) this.refine(false);
      else this.draw();
      clearTimeout(this.restTimer);
      this.restTimer = setTimeout(() => this.refine(true), REST);
    });
  }

  private draw(): void {
    this.renderer.render(this.scene, this.orbit.camera);
    if (this.partsChanged) this.canvas.dispatchEvent(new Event(DRAWN));
    this.partsChanged = false;
  }
}

/** Gives a part the surface that it is to be drawn with: cut at its sections while it bends. */
function put({ mesh, lines, surface, cut }: Drawn): void {
  mesh.geometry.dispose();
  lines.geometry.dispose();
  mesh.geometry = cut
    ? geometryOf({ ...cut, positions: cut.positions.slice() })
    : geometryOf(surface, surface.index);
  lines.geometry = edgesOf((cut ?? surface).lines.slice());
}

function geometryOf(
  { positions, normals, counts }: Pick<Cut, "positions" | "normals" | "counts">,
  index?: Uint32Array,
): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(positions, 3));
  geometry.setAttribute("normal", new BufferAttribute(normals, 3));
  if (index) geometry.setIndex(new BufferAttribute(index, 1));
  let start = 0;
  for (const kind of [SIDE, CUT, PEG]) {
    const count = counts[kind] ?? 0;
    geometry.addGroup(start, count, kind);
    start += count;
  }
  return geometry;
}

function edgesOf(lines: Float32Array): BufferGeometry {
  const edges = new BufferGeometry();
  edges.setAttribute("position", new BufferAttribute(lines, 3));
  return edges;
}

function build(part: ScenePart): Pick<Drawn, "group" | "mesh" | "lines" | "surface"> {
  const surface = part.surface
    ? sentMesh(part.surface)
    : meshPart([part.size[0] ?? 1, part.size[1] ?? 1, part.size[2] ?? 1], part.features);
  const seed = seedOf(part.id);
  const materials = [SIDE, CUT, PEG].map((kind) => wood(part.species, seed, kind === CUT, part.glued));
  const mesh = new Mesh(geometryOf(surface, surface.index), materials);
  mesh.userData.id = part.id;
  const lines = new LineSegments(edgesOf(surface.lines), new LineBasicMaterial());
  const group = new Group();
  group.matrixAutoUpdate = false;
  group.add(mesh, lines);
  return { group, mesh, lines, surface };
}

/** Tells whether the browser draws on the processor, as on a machine without graphics of its own. */
function drawsInSoftware(): boolean {
  const gl = document.createElement("canvas").getContext("webgl2");
  const names = gl?.getExtension("WEBGL_debug_renderer_info");
  const name = gl && names ? String(gl.getParameter(names.UNMASKED_RENDERER_WEBGL)) : "";
  gl?.getExtension("WEBGL_lose_context")?.loseContext();
  return /swiftshader|llvmpipe|softpipe|software|basic render/i.test(name);
}

const vector = (p: readonly number[]) => new Vector3(p[0], p[1], p[2]);
