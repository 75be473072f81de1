// Ticks tasks off, starts and stops them, and notes something about them. Always allowed for a saved piece: what cannot
// be sent at once is kept and sent when the server answers again.

import * as api from "../api/client";
import { Conflict, Refused, Unreachable } from "../api/client";
import type { WorkEvent } from "../api/types";
import * as bench from "../state/bench";
import { clashWords } from "../state/clash";
import { lost, whenBack } from "../state/connection";
import { tell, tellFailure } from "../state/message";
import { addWaiting, eventName, listWaiting, removeWaiting } from "../state/waiting";
import { shopClock, unsent, work, workProblem } from "../state/work";

let sending = false;

/** Shows the work of the piece on the bench, after sending what an earlier visit left. */
export async function openWork(): Promise<void> {
  const piece = bench.saved.peek()?.id;
  if (!piece) return;
  work.value = null;
  workProblem.value = "";
  unsent.value = await listWaiting(piece);
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
  unsent.value = [...unsent.peek(), event];
  await addWaiting(piece, [event]);
  await send(piece);
}

async function send(piece: string): Promise<void> {
  if (sending) return;
  sending = true;
  try {
    while (unsent.peek().length > 0 && bench.saved.peek()?.id === piece) {
      const events = unsent.peek();
      const answer = await api.recordWork(piece, events, shopClock(new Date()));
      await removeWaiting(piece, events);
      const sent = new Set(events.map((e) => e.id));
      unsent.value = unsent.peek().filter((e) => !sent.has(e.id));
      if (answer.clashes.length > 0) tell({ text: clashWords(answer.clashes), bad: true });
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

whenBack(() => {
  const piece = bench.saved.peek()?.id;
  if (piece && unsent.peek().length > 0) void send(piece);
});
