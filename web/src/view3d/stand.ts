// Where parts stand while the piece is put together or swells: how far each is moved from its place, how much
// wider it is drawn, and whether it is there at all. Knows nothing of drawing.

import type { SceneYear, TogetherStep } from "../api/types";

export interface Stand {
  /** How far it is moved from its place, mm. */
  shift: readonly [number, number, number];
  /** How much wider and thicker it is drawn than it is: 0 for as it is. */
  wider: number;
  thicker: number;
  hidden: boolean;
  /** It is moving now. */
  marked: boolean;
}

const still: Stand = { shift: [0, 0, 0], wider: 0, thicker: 0, hidden: false, marked: false };

/**
 * The parts at a time of the assembly. The whole number of time counts the steps that are done; what follows it is
 * how far the next push has gone. Parts that no step has used so far are not there.
 */
export function assembled(
  ids: readonly string[],
  steps: readonly TogetherStep[],
  time: number,
): Map<string, Stand> {
  const last = Math.min(Math.floor(time), steps.length - 1);
  const there = new Set(steps.slice(0, last + 1).flatMap((s) => [...s.moving, ...s.onto]));
  const step = time < steps.length ? steps[last] : undefined;
  const left = step ? step.distance * (1 - eased(time - last)) : 0;
  return new Map(
    ids.map((id) => {
      if (!there.has(id)) return [id, { ...still, hidden: steps.length > 0 && time < steps.length }];
      if (!step?.moving.includes(id)) return [id, still];
      const [x = 0, y = 0, z = 0] = step.direction.map((d) => -d * left);
      return [id, { ...still, shift: [x, y, z], marked: true }];
    }),
  );
}

/** Starts and stops gently. */
const eased = (t: number) => t * t * (3 - 2 * t);

/** The parts in a month, or between two months, drawn larger than life. */
export function swollen(
  sizes: ReadonlyMap<string, readonly number[]>,
  year: SceneYear,
  month: number,
): Map<string, Stand> {
  const at = Math.min(Math.max(Math.floor(month), 0), year.months.length - 1);
  const here = year.months[at]?.share ?? 0;
  const next = year.months[(at + 1) % year.months.length]?.share ?? here;
  const share = (here + (next - here) * (month - at)) * year.times;
  return new Map(
    year.parts.map((part) => {
      const [, width = 1, thickness = 1] = sizes.get(part.id) ?? [];
      const wider = Math.max((share * part.width) / width, THINNEST - 1);
      return [
        part.id,
        { ...still, wider, thicker: Math.max((share * part.thickness) / thickness, THINNEST - 1) },
      ];
    }),
  );
}

/** No part is drawn thinner than this share of itself, however large the scale. */
const THINNEST = 0.1;
