// Changes the text of the piece at some places, by the server, so that the rest of it stays as it was written. Allowed while a piece
// is on the bench; each change can be stepped back from.

import { effect } from "@preact/signals";
import { editText, openEditWords } from "../api/client";
import type { Edit } from "../api/types";
import * as bench from "../state/bench";
import { type Item, items, words } from "../state/hand";
import { tellFailure } from "../state/message";
import { replaceText } from "./changeSize";
import { rememberFrom } from "./plan";

/** Fetches the words to choose from, once. */
export async function fetchWords(): Promise<void> {
  if (words.peek()) return;
  try {
    words.value = await openEditWords();
  } catch (cause) {
    tellFailure("The words to choose from did not come", cause);
  }
}

let stopFollowing = () => {};

/** Keeps the chosen part chosen when a change gives it another mark. */
function followPicked(): void {
  stopFollowing();
  const before = bench.good.peek();
  const name = before?.scene?.parts.find((p) => p.id === bench.picked.peek())?.name;
  if (!name) return;
  stopFollowing = effect(() => {
    const now = bench.good.value;
    if (now === before) return;
    bench.picked.value = now?.scene?.parts.find((p) => p.name === name)?.id ?? "";
    queueMicrotask(() => stopFollowing());
  });
}

let queue: Promise<unknown> = Promise.resolve();

/** Makes edits one after the other in the order in which they were asked for; true when they were made. */
export function edit(make: () => Edit[]): Promise<boolean> {
  const done = queue.then(async () => {
    const id = bench.saved.peek()?.id;
    try {
      const answer = await editText({ text: bench.text.peek(), sizes: bench.typed.peek(), edits: make() });
      if (id !== bench.saved.peek()?.id) return false;
      followPicked();
      // Each edit is a step of its own, also when the next comes before the piece has been worked out.
      bench.past.value = [...bench.past.peek(), bench.text.peek()];
      bench.future.value = [];
      rememberFrom(answer.text);
      replaceText(answer.text);
      return true;
    } catch (cause) {
      tellFailure("Not changed", cause);
      return false;
    }
  });
  queue = done;
  return done;
}

/** The edits that bring a change by hand of a part into the file: into the change that is there, or a new one. */
export function partChange(
  list: Item[],
  part: string,
  set: Record<string, unknown>,
  unset: string[] = [],
): Edit[] {
  const index = list.findIndex((c) => c.part === part);
  const left = { ...list[index], ...set };
  for (const key of unset) delete left[key];
  if (Object.keys(left).every((k) => k === "part" || k === "stays"))
    return index < 0 ? [] : [{ in: "changes", index, remove: true }];
  if (index < 0) return [{ in: "changes", index: -1, set: { part, ...set } }];
  return [{ in: "changes", index, set, unset: unset.filter((key) => list[index] && key in list[index]) }];
}

/** The edits that fix the joint between two parts; without a kind it is left to the plan again. */
export function jointChange(list: Item[], between: string[], kind: string): Edit[] {
  const same = (c: Item) =>
    Array.isArray(c.between) &&
    c.between.length === 2 &&
    between.every((n) => (c.between as string[]).includes(n));
  const index = list.findIndex(same);
  if (kind === "") return index < 0 ? [] : [{ in: "changes", index, remove: true }];
  if (index < 0) return [{ in: "changes", index: -1, set: { between, joint: { kind } } }];
  return [
    {
      in: "changes",
      index,
      set: { joint: { kind } },
      unset: list[index] && "out" in list[index] ? ["out"] : [],
    },
  ];
}

/** Changes a part that a pattern or a copy made. */
export const changePart = (part: string, set: Record<string, unknown>, unset: string[] = []) =>
  edit(() => partChange(items("changes"), part, set, unset));

/** Fixes the joint between two parts, or leaves it to the plan again when kind is "". */
export const changeJoint = (between: string[], kind: string) =>
  edit(() => jointChange(items("changes"), between, kind));

/** Takes a change by hand out of the file. */
export const takeOutChange = (index: number) => edit(() => [{ in: "changes", index, remove: true }]);
