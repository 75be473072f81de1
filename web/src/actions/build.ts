// Builds a piece part by part: parts, how they lie, copies, connections, named dimensions. Each is an edit of the text that can be
// stepped back from.

import type { Edit } from "../api/types";
import * as bench from "../state/bench";
import { type Item, indexIn, items, placeOf } from "../state/hand";
import { edit } from "./editPiece";

/** Chooses the part of a name as soon as it is drawn. */
function chooseWhenDrawn(name: string): void {
  const stop = bench.good.subscribe((now) => {
    const part = now?.scene?.parts.find((p) => p.name === name);
    if (!part) return;
    bench.picked.value = part.id;
    queueMicrotask(() => stop());
  });
}

/** A name that no part has yet: "rail", "rail 2", ... */
export function freeName(base: string, taken: string[]): string {
  if (!taken.includes(base)) return base;
  let n = 2;
  while (taken.includes(`${base} ${n}`)) n++;
  return `${base} ${n}`;
}

const names = () => [
  ...(bench.good.value?.scene?.parts.map((p) => p.name) ?? []),
  ...items("parts").map((p) => String(p.name ?? "")),
];

/** Adds a part, beside the piece so that it runs into nothing. */
export async function addPart(item: Item): Promise<void> {
  const name = freeName(String(item.name || item.role || "part"), names());
  if (await edit(() => [{ in: "parts", index: -1, set: { ...item, name } }])) chooseWhenDrawn(name);
}

/** Writes keys of a part that the file writes out. */
export const setPart = (index: number, set: Record<string, unknown>, unset: string[] = []) =>
  edit(() => [{ in: "parts", index, set, unset }]);

/** Takes a part out, with its connections and what else names it in the lists of the file. */
export function deletePart(index: number): Promise<boolean> {
  bench.picked.value = "";
  return edit(() => {
    const name = items("parts")[index]?.name;
    const edits: Edit[] = [];
    const drop = (list: string, names: (item: Item) => boolean) => {
      for (let i = items(list).length - 1; i >= 0; i--)
        if (names(items(list)[i] ?? {})) edits.push({ in: list, index: i, remove: true });
    };
    drop("connections", (c) => Array.isArray(c.between) && c.between.includes(name));
    drop("changes", (c) => c.part === name || (Array.isArray(c.between) && c.between.includes(name)));
    drop("repeats", (r) => Array.isArray(r.parts) && r.parts.length === 1 && r.parts[0] === name);
    edits.push({ in: "parts", index, remove: true });
    return edits;
  });
}

/** Moves a part, mm to the right, back and up, wherever it comes from. */
export function movePart(id: string, move: number[]): Promise<boolean> {
  const name = bench.good.value?.scene?.parts.find((p) => p.id === id)?.name ?? "";
  const index = indexIn("parts", placeOf(id));
  return edit(() => {
    if (index >= 0) return [{ in: "parts", index, move }];
    const change = items("changes").findIndex((c) => c.part === name);
    return change >= 0
      ? [{ in: "changes", index: change, move }]
      : [{ in: "changes", index: -1, set: { part: name }, move }];
  });
}

export const addRepeat = (item: Item) => edit(() => [{ in: "repeats", index: -1, set: item }]);
export const takeOutRepeat = (index: number) => edit(() => [{ in: "repeats", index, remove: true }]);

export const connect = (item: Item) => edit(() => [{ in: "connections", index: -1, set: item }]);
export const disconnect = (index: number) => edit(() => [{ in: "connections", index, remove: true }]);

export const setDimension = (name: string, text: string) =>
  edit(() => [
    text === "" ? { in: "dimensions", unset: [name] } : { in: "dimensions", set: { [name]: text } },
  ]);
