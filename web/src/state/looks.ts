// How the piece is looked at beyond turning it: as it stands, bent, through the year, or being put together, and
// which joint is chosen. What stands is worked out from the newest good answer.

import { computed, signal } from "@preact/signals";
import type { SceneJoint } from "../api/types";
import { assembled, type Stand, swollen } from "../view3d/stand";
import * as bench from "./bench";

export type Look = "piece" | "bend" | "year" | "together";

export const look = signal<Look>("piece");

/** How far the assembly has gone in steps, and which month it is, from 0; both may stand between two. */
export const step = signal(0);
export const month = signal(0);

/** Whether either is playing. */
export const playing = signal(false);

/** Whether the picture keeps its size on a small screen while a chapter is read. */
export const large = signal(false);

/** The name of the joint that is chosen, "" for none. */
export const joint = signal("");

export const chosenJoint = computed<SceneJoint | undefined>(() =>
  bench.good.value?.scene?.joints.find((j) => j.name === joint.value),
);

/** Where parts stand, null while all stand as they are. */
export const stands = computed<ReadonlyMap<string, Stand> | null>(() => {
  const answer = bench.good.value;
  const scene = answer?.scene;
  if (!scene) return null;
  if (look.value === "together" && answer.together)
    return assembled(
      scene.parts.map((p) => p.id),
      answer.together.steps,
      step.value,
    );
  if (look.value === "year" && scene.year)
    return swollen(new Map(scene.parts.map((p) => [p.id, p.size])), scene.year, month.value);
  return null;
});

/** Chooses a part everywhere, or lets it go when it is chosen already. */
export function pickPart(id: string): void {
  joint.value = "";
  bench.picked.value = id === bench.picked.peek() ? "" : id;
}

/** Chooses a joint everywhere, or lets it go when it is chosen already. */
export function pickJoint(name: string): void {
  bench.picked.value = "";
  joint.value = name === joint.peek() ? "" : name;
}

/** Looks at another piece afresh. */
export function clearLooks(): void {
  look.value = "piece";
  step.value = 0;
  month.value = 0;
  playing.value = false;
  joint.value = "";
}
