// Where a fault of a board may lie, and how keys and the hand move it. Millimetres from the marked end and from the
// left edge.

import type { RackDefect } from "../api/types";

/** The least size of a fault that is drawn or dragged, mm, and how far an arrow key moves it. */
export const LEAST = 10;
const STEP = 5;

/** Keeps a fault on its board and not smaller than can be seen. */
export function inside(d: RackDefect, board: { length: number; width: number }): RackDefect {
  const span = (low: number, high: number, most: number): [number, number] => {
    const from = Math.max(0, Math.min(low, most - Math.min(LEAST, most)));
    return [from, Math.min(most, Math.max(high, from + Math.min(LEAST, most)))];
  };
  const [from, to] = span(d.from, d.to, board.length);
  const [left, right] = span(d.left, d.right, board.width);
  return { kind: d.kind, from, to, left, right };
}

/** A fault moved or sized by an arrow key; null for any other key. */
export function keyed(d: RackDefect, key: string, sized: boolean): RackDefect | null {
  const along = key === "ArrowRight" ? STEP : key === "ArrowLeft" ? -STEP : 0;
  const across = key === "ArrowUp" ? STEP : key === "ArrowDown" ? -STEP : 0;
  if (along === 0 && across === 0) return null;
  if (sized) return { ...d, to: d.to + along, right: d.right + across };
  return moved(d, along, across);
}

/** A fault moved as a whole, stopped by the ends and edges that it is moved from. */
export function moved(d: RackDefect, along: number, across: number): RackDefect {
  const x = Math.max(along, -d.from);
  const y = Math.max(across, -d.left);
  return { ...d, from: d.from + x, to: d.to + x, left: d.left + y, right: d.right + y };
}
