// Ticks tasks off, starts and stops them, and notes something about them. Always allowed for a saved piece: what cannot
// be sent at once is kept and sent when the server answers again.

import * as api from "../api/client";
import { Conflict, Refused, Unreachable } from "../api/client";
import type { WorkEvent } from "../api/types";
import * as bench from "../state/bench";
import { lost, whenBack } from "../state/connection";
import { tellFailure } from "../state/message";
import { findUnsent, keepUnsent, shopClock, unsent, work, workProblem } from "../state/work";

let sending = false;

/** Shows the work of the piece on the bench, after sending what an earlier visit left. */
export async function openWork(): Promise<void> {
  const piece = bench.saved.peek()?.id;
  if (!piece) return;
  work.value = null;
  workProblem.value = "";
  unsent.value = findUnsent(piece);
  if (unsent.value.length > 0) {
    await send(piece);
    if (work.value) return;
  }
  try {
    const answer = await api.showWork(piece, shopClock(new Date()));
    if (bench.saved.peek()?.id === piece) work.value = answer;
  } catch (cause) {
    failed(cause);
  }
}

/** Notes what was done with a task now. */
export async function noteWork(
  task: { id: string; name: string },
  action: WorkEvent["action"],
  note = "",
): Promise<void> {
  const piece = bench.saved.peek()?.id;
  if (!piece) return;
  const event: WorkEvent = {
    id: eventName(),
    task: task.id,
    name: task.name,
    action,
    at: shopClock(new Date()),
  };
  if (note !== "") event.note = note;
  keepUnsent(piece, [...unsent.peek(), event]);
  await send(piece);
}

async function send(piece: string): Promise<void> {
  if (sending) return;
  sending = true;
  try {
    while (unsent.peek().length > 0 && bench.saved.peek()?.id === piece) {
      const events = unsent.peek();
      const answer = await api.recordWork(piece, events, shopClock(new Date()));
      const sent = new Set(events.map((e) => e.id));
      keepUnsent(
        piece,
        unsent.peek().filter((e) => !sent.has(e.id)),
      );
      if (bench.saved.peek()?.id === piece) work.value = answer;
    }
  } catch (cause) {
    failed(cause);
  } finally {
    sending = false;
  }
}

function failed(cause: unknown): void {
  if (cause instanceof Unreachable) lost();
  else if (cause instanceof Refused && !(cause instanceof Conflict)) workProblem.value = cause.message;
  else tellFailure("The work was not noted", cause);
}

/** A name that no other event has: 96 random bits. It needs no secure context, as a phone in the shop has none. */
function eventName(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(12));
  return [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
}

whenBack(() => {
  const piece = bench.saved.peek()?.id;
  if (piece && unsent.peek().length > 0) void send(piece);
});
