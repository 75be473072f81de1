// Timers of the bench: for glue, clamps and coats. They are kept by the time at which they ring, so that they outlive a reload, and
// ring late rather than never when the page was shut.

import { computed, signal } from "@preact/signals";
import { hush, ring, wake } from "./alarm";

export interface Running {
  id: string;
  name: string;
  task: string; // title of its card
  ring: string; // what to do when it rings
  ends: number; // ms since 1970
  quiet?: boolean; // it has rung and was answered for
}

export const running = signal<Running[]>([]);
export const clock = signal(Date.now());

/** Timers that are over and that nobody has answered for. */
export const ringing = computed(() => running.value.filter((t) => t.ends <= clock.value));

let key = "";
let ticking: ReturnType<typeof setInterval> | undefined;

/** Takes up the timers of a piece. */
export function findTimers(piece: string): void {
  key = `longgrain.timers.${piece}`;
  try {
    const found: unknown = JSON.parse(localStorage.getItem(key) ?? "[]");
    running.value = Array.isArray(found) ? found.filter(isTimer) : [];
  } catch {
    running.value = [];
  }
  look();
}

function isTimer(x: unknown): x is Running {
  const t = x as Running | null;
  return (
    typeof t === "object" &&
    t !== null &&
    typeof t.ends === "number" &&
    [t.id, t.name, t.ring, t.task].every((field) => typeof field === "string")
  );
}

function keep(timers: Running[]): void {
  running.value = timers;
  try {
    localStorage.setItem(key, JSON.stringify(timers));
  } catch {
    // The timer runs as long as the page stays.
  }
  look();
}

/** Starts a timer, or starts it anew. Call it from a press of a button: browsers let a page sound only after one. */
export function startTimer(t: Omit<Running, "ends">, minutes: number): void {
  wake();
  keep([...running.peek().filter((x) => x.id !== t.id), { ...t, ends: Date.now() + minutes * 60_000 }]);
}

/** Stops a timer, whether it has rung or not. */
export function stopTimer(id: string): void {
  keep(running.peek().filter((t) => t.id !== id));
}

/** Looks at the clock now and then every second while a timer runs. */
function look(): void {
  clock.value = Date.now();
  if (ringing.peek().length > 0) ring();
  else hush();
  if (running.peek().length > 0) ticking ??= setInterval(look, 1000);
  else {
    clearInterval(ticking);
    ticking = undefined;
  }
}

document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible" && running.peek().length > 0) look();
});
