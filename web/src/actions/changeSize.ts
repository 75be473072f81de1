// Changes a size of the piece, as typed; and changes the piece file as a whole. Always allowed: what
// cannot be is told by the server, and the last piece that could be made stays in the picture.

import * as bench from "../state/bench";
import { planBench, rememberFrom } from "./plan";

/** Notes what is being typed into a field, without working it out yet. */
export function typeSize(name: string, value: string): void {
  bench.typed.value = { ...bench.typed.value, [name]: value };
}

/** Works the piece out with a size as typed or dragged. */
export function changeSize(name: string, value: string): void {
  typeSize(name, value);
  planBench(false);
}

let typingTimer: ReturnType<typeof setTimeout> | undefined;

/** How long a person must stop typing in the piece file for it to be worked out, ms. */
const TYPING_PAUSE = 400;

/** Takes a piece file as it is being typed. Sizes that wait to be put in are given up for it. */
export function changeText(value: string): void {
  bench.text.value = value;
  bench.typed.value = {};
  clearTimeout(typingTimer);
  typingTimer = setTimeout(() => planBench(false), TYPING_PAUSE);
}

/** Puts a whole text on the bench, such as an earlier version. It can be stepped back from. */
export function replaceText(value: string): void {
  bench.text.value = value;
  bench.typed.value = {};
  planBench(true);
}

/** Goes back to the piece before the last change. Allowed when there was one. */
export function stepBack(): void {
  const before = bench.past.value.at(-1);
  if (before === undefined) return;
  const now = bench.text.value;
  bench.past.value = bench.past.value.slice(0, -1);
  bench.future.value = [now, ...bench.future.value];
  rememberFrom(before);
  replaceText(before);
}

/** Goes forward again after stepBack. */
export function stepForward(): void {
  const [next, ...later] = bench.future.value;
  if (next === undefined) return;
  bench.past.value = [...bench.past.value, bench.text.value];
  bench.future.value = later;
  rememberFrom(next);
  replaceText(next);
}
