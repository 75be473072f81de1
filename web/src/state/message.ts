// The one message at the foot of the page: what was just done, with a way to undo it, or what went wrong.

import { signal } from "@preact/signals";
import { Refused, Unreachable } from "../api/client";
import { lost } from "./connection";

export interface Message {
  text: string;
  bad?: boolean;
  action?: { title: string; run: () => void };
}

export const message = signal<Message | null>(null);

/** How long a message that asks for nothing stays, ms. */
const STAYS = 6000;

let timer: ReturnType<typeof setTimeout> | undefined;

/** Shows a message. One with an action, or about something that failed, stays until it is closed. */
export function tell(m: Message): void {
  clearTimeout(timer);
  message.value = m;
  if (!m.bad && !m.action) timer = setTimeout(() => dismiss(), STAYS);
}

export function dismiss(): void {
  message.value = null;
}

/** Tells what failed; doing says what was tried, such as "The piece was not saved". */
export function tellFailure(doing: string, cause: unknown): void {
  if (cause instanceof Unreachable) {
    lost();
    tell({ text: `${doing}: Longgrain does not answer. Start it again and try once more.`, bad: true });
  } else if (cause instanceof Refused) {
    tell({ text: `${doing}: ${cause.message}.`, bad: true });
  } else {
    console.error(cause);
    tell({
      text: `${doing}: something went wrong in this page. Load it again; what you typed is kept.`,
      bad: true,
    });
  }
}
