// What the piece file says part by part, as it stands in the text, and the words to choose from.

import { computed, signal } from "@preact/signals";
import type { EditWords, Problem } from "../api/types";
import * as bench from "./bench";

/** An item of a list of the piece file: texts, lists and mappings, as they are written. */
export type Item = Record<string, unknown>;

export const words = signal<EditWords | null>(null);

const written = computed<Record<string, unknown>>(
  () => bench.latest.value?.byHand?.written ?? bench.good.value?.byHand?.written ?? {},
);

/** The items of a list of the piece file, such as changes. */
export function items(list: string): Item[] {
  const found = written.value[list];
  return Array.isArray(found) ? found.filter((x) => typeof x === "object" && x !== null) : [];
}

/** A mapping of the piece file, such as dimensions. */
export function mapping(name: string): Record<string, string> {
  const found = written.value[name];
  if (typeof found !== "object" || found === null || Array.isArray(found)) return {};
  return Object.fromEntries(Object.entries(found).map(([k, v]) => [k, String(v)]));
}

/** The place in the file that a part of the picture comes from, such as "parts[2]" or "pattern". */
export function placeOf(id: string): string {
  const answer = bench.good.value;
  const at = answer?.scene?.parts.findIndex((p) => p.id === id) ?? -1;
  return answer?.byHand?.parts[at] ?? "";
}

/** The number in a place of a list: 2 of "parts[2]" for the list parts, -1 for any other list. */
export function indexIn(list: string, place: string): number {
  return place.startsWith(`${list}[`) ? Number.parseInt(place.slice(list.length + 1), 10) : -1;
}

/** What is wrong at a place of the file, in words; "" when nothing is. */
export function problemAt(place: string): string {
  const inside = (p: Problem) =>
    p.at.path === place || p.at.path?.startsWith(`${place}.`) || p.at.path?.startsWith(`${place}[`);
  const found = bench.problems.value.find(inside);
  return found ? [found.what, found.mend].filter(Boolean).join("; ") : "";
}

/** A value of an item as a text to show or to type over. */
export function shown(value: unknown): string {
  if (value === undefined || value === null) return "";
  if (Array.isArray(value)) return value.map(shown).join(", ");
  if (typeof value === "object")
    return Object.entries(value)
      .map(([k, v]) => `${k} ${shown(v)}`)
      .join(", ");
  return String(value);
}
