// The work on the piece that is on the bench: the order of work with what was done, and what was noted here and has not
// reached the server yet. That is kept in state/waiting.ts, so that a bench without network loses nothing.

import { signal } from "@preact/signals";
import type { WorkAnswer, WorkEvent } from "../api/types";

export const work = signal<WorkAnswer | null>(null);

/** What could not be shown, and why; empty while it can. */
export const workProblem = signal("");

/** Events that the server has not confirmed, as they wait in the browser, the oldest first. */
export const unsent = signal<WorkEvent[]>([]);

/** The task that a note is being written about, and what was typed so far. It stays while the list is planned again. */
export const noting = signal<{ task: string; text: string } | null>(null);

/** Whether days on which everything is done are shown. */
export const showDone = signal(false);

/** A time as the server reads it: on the clock of the shop, without a zone. */
export function shopClock(date: Date): string {
  const two = (n: number) => String(n).padStart(2, "0");
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}T${two(date.getHours())}:${two(date.getMinutes())}`;
}

/** What events make of the state of a task, for those that the server has not answered yet. */
export function stateAfter(state: string, task: string, events: WorkEvent[]): string {
  let now = state;
  for (const event of events) {
    if (event.task !== task) continue;
    if (event.action === "start") now = "running";
    else if (event.action === "stop") now = now === "running" ? "started" : now;
    else if (event.action === "done") now = "done";
    else if (event.action === "undo") now = "open";
  }
  return now;
}
