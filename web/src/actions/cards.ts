// Opens the cards of a piece, ticks them off and sends what was done. What cannot be sent waits in the browser and goes out when the
// server answers again; the page works on with the cards that it has.

import type { CardsAnswer } from "../api/cards";
import * as api from "../api/cards";
import { Conflict, Refused, Unreachable } from "../api/client";
import { NewestWins } from "../api/queue";
import type { WorkEvent } from "../api/types";
import * as state from "../state/cards";
import { clashWords } from "../state/clash";
import { lost, whenBack } from "../state/connection";
import { tell, tellFailure } from "../state/message";
import { findTimers } from "../state/timers";
import {
  addWaiting,
  eventName,
  findAnswer,
  isEvent,
  keepAnswer,
  listWaiting,
  removeWaiting,
} from "../state/waiting";
import { shopClock } from "../state/work";

/** Most events that go out in one request. */
const MOST = 500;

/** Sends what waits of a piece until nothing does. One request is under way at a time. */
const line = new NewestWins<string, void>(
  async (piece) => {
    for (;;) {
      const events = (await listWaiting(piece)).slice(0, MOST);
      if (events.length === 0) return;
      const version = state.answer.peek()?.version ?? 0;
      const got = await api.tickCards(piece, events, shopClock(new Date()), version);
      await removeWaiting(piece, events);
      if (got.clashes.length > 0) tell({ text: `${clashWords(got.clashes)}.`, bad: true });
      await take(piece, got);
    }
  },
  () => {},
  failed,
);

function failed(cause: unknown): void {
  if (cause instanceof Unreachable) lost();
  else if (cause instanceof Refused && cause.status === 401)
    state.hindered.value = { kind: "code", words: cause.message };
  else if (cause instanceof Refused && !(cause instanceof Conflict) && !state.answer.peek())
    state.hindered.value = { kind: "other", words: cause.message };
  else tellFailure("What was ticked is kept in this browser, and was not sent", cause);
}

/** Takes an answer of the server: figures that it left out are those that the page has. */
async function take(piece: string, got: CardsAnswer): Promise<void> {
  const before = state.answer.peek();
  if (got.deck.figures.length === 0 && before?.version === got.version && before.id === got.id)
    got.deck.figures = before.deck.figures;
  const left = await listWaiting(piece);
  state.waiting.value = left;
  state.answer.value = got;
  state.fromBefore.value = false;
  state.hindered.value = null;
  await keepAnswer(`cards.${piece}`, got);
}

/** Opens what the address asks for. A code behind the # is handed in first. */
export async function openCards(): Promise<void> {
  const wish = location.hash.slice(1);
  if (wish.startsWith("code=")) {
    history.replaceState(null, "", location.pathname);
    if (!(await join(decodeURIComponent(wish.slice(5))))) return;
  }
  const piece = state.pieceOf(location.pathname);
  if (!piece) {
    await openShelf();
    return;
  }
  state.findSteps(piece);
  findTimers(piece);
  state.waiting.value = await listWaiting(piece);
  const before = await findAnswer<CardsAnswer>(`cards.${piece}`).catch(() => undefined);
  try {
    if (state.waiting.peek().length > 0) await sendFirst(piece);
    await take(piece, await api.showCards(piece, shopClock(new Date())));
  } catch (cause) {
    if (cause instanceof Unreachable && before) {
      state.answer.value = before;
      state.fromBefore.value = true;
      lost();
    } else if (cause instanceof Unreachable) {
      state.hindered.value = {
        kind: "other",
        words: "Longgrain does not answer. Start it, or join its network, and load this page again",
      };
      lost();
    } else failed(cause);
  }
  layOnTop(wish);
  void api.listCards().then(
    (found) => {
      state.shelf.value = found;
    },
    () => {}, // told by what else was asked
  );
}

/** Sends what an earlier visit left before the cards are asked for, so that they come with it. */
async function sendFirst(piece: string): Promise<void> {
  const events = (await listWaiting(piece)).slice(0, MOST);
  const got = await api.tickCards(piece, events, shopClock(new Date()), 0);
  await removeWaiting(piece, events);
  if (got.clashes.length > 0) tell({ text: `${clashWords(got.clashes)}.`, bad: true });
}

async function openShelf(): Promise<void> {
  try {
    state.shelf.value = await api.listCards();
    state.hindered.value = null;
    await keepAnswer("shelf", state.shelf.peek());
  } catch (cause) {
    const before = await findAnswer<api.CardShelf>("shelf").catch(() => undefined);
    if (cause instanceof Unreachable && before) state.shelf.value = before;
    if (cause instanceof Unreachable) lost();
    else failed(cause);
  }
}

/** Lays the card on top that the address names, else the one that is to be done next. */
export function layOnTop(wish: string): void {
  const all = state.cards.peek();
  const part = /^part-(.+)$/.exec(wish)?.[1];
  const task = /^card-(.+)$/.exec(wish)?.[1];
  let k = -1;
  if (part) k = state.cardOfPart(decodeURIComponent(part));
  else if (task) k = all.findIndex((c) => c.tasks.some((t) => t.id === decodeURIComponent(task)));
  showCard(k >= 0 ? k : Math.max(0, state.nextOpen()));
}

/** Lays a card on top. */
export function showCard(k: number): void {
  const card = state.cards.peek()[k];
  const task = card?.tasks[0]?.id;
  if (!task) return;
  state.onTop.value = task;
  history.replaceState(null, "", `${location.pathname}#card-${encodeURIComponent(task)}`);
}

/** Goes so many cards on, or back. */
export function turn(by: number): void {
  const k = state.place.peek() + by;
  if (k >= 0 && k < state.cards.peek().length) showCard(k);
}

/** Notes what was done with a card now. */
export async function note(card: api.Card, action: WorkEvent["action"], words = ""): Promise<void> {
  const piece = state.answer.peek()?.id;
  if (!piece) return;
  const at = shopClock(new Date());
  const events = card.tasks.map((t): WorkEvent => {
    const event: WorkEvent = { id: eventName(), task: t.id, name: t.name, action, at };
    return words === "" ? event : { ...event, note: words };
  });
  state.waiting.value = [...state.waiting.peek(), ...events];
  await addWaiting(piece, events);
  line.submit(piece);
}

/** Ticks a card off and lays the next one on top, with a way back. */
export async function tickOff(card: api.Card): Promise<void> {
  const k = state.place.peek();
  await note(card, "done");
  const next = state.nextOpen(k);
  tell({
    text: `Ticked off: ${card.title}`,
    action: {
      title: "Not done",
      run: () => {
        void note(card, "undo");
        showCard(state.cards.peek().findIndex((c) => c.tasks[0]?.id === card.tasks[0]?.id));
      },
    },
  });
  if (next >= 0) showCard(next);
}

/** Hands a code in; true when this phone is known from now on. */
export async function join(code: string): Promise<boolean> {
  try {
    const { name } = await api.joinPhone(code);
    state.hindered.value = null;
    tell({ text: `This is ${name} now. It may read cards, tick and note` });
    return true;
  } catch (cause) {
    const words = cause instanceof Refused ? cause.message : "Longgrain does not answer";
    state.hindered.value = { kind: "code", words };
    return false;
  }
}

/** Brings ticks back that were made in a carried file. Returns what is wrong with them, or "". */
export async function bringTicks(text: string): Promise<string> {
  const piece = state.answer.peek()?.id;
  if (!piece) return "no cards are open";
  let told: { ticks?: unknown; piece?: unknown; events?: unknown };
  try {
    told = JSON.parse(text.trim());
  } catch {
    return "this is not what “Copy my ticks” gives: copy all of it, from the first bracket to the last";
  }
  if (told === null || told.ticks !== 1 || !Array.isArray(told.events))
    return "this does not come from a carried file of cards";
  const name = state.answer.peek()?.deck.piece;
  if (told.piece !== name) return `these are ticks of “${told.piece}”, and this is “${name}”`;
  const events = told.events.filter(isEvent);
  if (events.length === 0) return "there are no ticks in it";
  state.waiting.value = [...state.waiting.peek(), ...events];
  await addWaiting(piece, events);
  line.submit(piece);
  tell({ text: `${events.length} ${events.length === 1 ? "entry" : "entries"} brought back` });
  return "";
}

whenBack(() => {
  const piece = state.pieceOf(location.pathname);
  if (!piece || !state.answer.peek()) void openCards();
  else if (state.waiting.peek().length > 0) line.submit(piece);
  else void api.showCards(piece, shopClock(new Date())).then((got) => take(piece, got), failed);
});

/** Lets the page be opened without network where the browser allows it: from this machine, or by https. */
export async function keepPage(): Promise<void> {
  if (!isSecureContext || !("serviceWorker" in navigator)) return;
  try {
    await navigator.serviceWorker.register("/cards-worker.js", { scope: "/cards" });
    const worker = (await navigator.serviceWorker.ready).active;
    const loaded = performance.getEntriesByType("resource").map((e) => e.name);
    worker?.postMessage({ keep: [new URL("/cards", location.href).href, ...loaded] });
  } catch (cause) {
    console.warn("the page cannot be kept", cause);
  }
}
