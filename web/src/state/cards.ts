// The cards of the piece that is on the bench, what was ticked here and has not reached the server, and which card lies on top.

import { computed, signal } from "@preact/signals";
import type { Card, CardShelf, CardsAnswer } from "../api/cards";
import type { WorkEvent } from "../api/types";
import { stateAfter } from "./work";

/** What the address asks for: /cards/<id>, or the list of pieces. */
export function pieceOf(path: string): string | null {
  const found = /^\/cards\/([^/]+)\/?$/.exec(path);
  return found?.[1] ? decodeURIComponent(found[1]) : null;
}

export const answer = signal<CardsAnswer | null>(null);
export const shelf = signal<CardShelf | null>(null);

/** Events of this page that the server has not confirmed. */
export const waiting = signal<WorkEvent[]>([]);

/** What keeps the cards from being shown; "code" when this phone is not known at the desk. */
export const hindered = signal<{ kind: "code" | "other"; words: string } | null>(null);

/** True while the cards are those of an earlier visit, because the server does not answer. */
export const fromBefore = signal(false);

/** The first task of the card that lies on top: cards change their places when the order is planned again. */
export const onTop = signal("");

export const cards = computed<Card[]>(() => answer.value?.deck.cards ?? []);

export type Doing = "open" | "started" | "running" | "done";

/** How far a card is, with what was done here since the server answered. */
export function doing(card: Card): Doing {
  const states = card.tasks.map((t) =>
    stateAfter(t.running ? "running" : t.state || "open", t.id, waiting.value),
  );
  if (states.every((s) => s === "done")) return "done";
  if (states.includes("running")) return "running";
  return states.some((s) => s !== "open") ? "started" : "open";
}

/** Notes about a card: those of the server, then those that wait. */
export function notesOf(card: Card): string[] {
  const ids = new Set(card.tasks.map((t) => t.id));
  const here = waiting.value.filter((e) => e.action === "note" && ids.has(e.task)).map((e) => e.note ?? "");
  return [...card.tasks.map((t) => t.note ?? ""), ...here].filter(Boolean);
}

/** The place of the card on top, 0 for none. */
export const place = computed(() => {
  const k = cards.value.findIndex((c) => c.tasks.some((t) => t.id === onTop.value));
  return Math.max(0, k);
});

export const doneCount = computed(() => cards.value.filter((c) => doing(c) === "done").length);

/** The card that is to be done next: the first that is under way, else the first that is open, after a place. */
export function nextOpen(from = -1): number {
  const open = (c: Card, k: number) => k > from && doing(c) !== "done";
  const later = cards.value.findIndex(open);
  return later >= 0 ? later : cards.value.findIndex((c) => doing(c) !== "done");
}

/** The card that a label leads to: the first one with the part that is still to be done, else the last one with it. */
export function cardOfPart(mark: string): number {
  const has = (c: Card) => c.parts.some((p) => p.mark === mark);
  const open = cards.value.findIndex((c) => has(c) && doing(c) !== "done");
  return open >= 0 ? open : cards.value.findLastIndex(has);
}

/** Which steps of a card were ticked on this phone; a help for the reader that is sent to nobody. */
export const steps = signal<Record<string, number[]>>({});

const stepsKey = (piece: string) => `longgrain.steps.${piece}`;

export function findSteps(piece: string): void {
  try {
    const found: unknown = JSON.parse(localStorage.getItem(stepsKey(piece)) ?? "{}");
    steps.value = typeof found === "object" && found !== null ? (found as Record<string, number[]>) : {};
  } catch {
    steps.value = {};
  }
}

export function tickStep(piece: string, task: string, step: number): void {
  const have = steps.peek()[task] ?? [];
  const now = have.includes(step) ? have.filter((s) => s !== step) : [...have, step];
  steps.value = { ...steps.peek(), [task]: now };
  try {
    localStorage.setItem(stepsKey(piece), JSON.stringify(steps.peek()));
  } catch {
    // The ticks stay as long as the page does.
  }
}
