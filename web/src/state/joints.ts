// The joint bench: what is to be joined, and the comparison of every joint that can be made there.

import { computed, signal } from "@preact/signals";
import type { JointCompared, JointsAnswer } from "../api/types";

/** What is joined without a piece, as it was typed. It stays while the page is open. */
export interface Free {
  wood: string;
  width: string;
  thickness: string;
  depth: string;
  bend: string;
  sideways: string;
  pull: string;
}

export const free = signal<Free>({
  wood: "eastern white pine",
  width: "110 mm",
  thickness: "23 mm",
  depth: "54 mm",
  bend: "20",
  sideways: "0",
  pull: "",
});

/** The connection of the piece that is asked for, "" for the first. */
export const connection = signal("");

/** The newest answer, and the newest that could be worked out: the one that is shown. */
export const latest = signal<JointsAnswer | null>(null);
export const good = signal<JointsAnswer | null>(null);

/** Kinds that are shown in the table, "" for all, and what it is sorted by. */
export const kind = signal("");
export const sort = signal<Column>("reserve");

export type Column = "reserve" | "bending" | "minutes" | "long";

/** The rows of the table. Without a load all reserves are alike, and the strongest come first. */
export const rows = computed<JointCompared[]>(() => {
  const all = (good.value?.joints ?? []).filter((j) => kind.value === "" || j.kind === kind.value);
  const by = sort.value;
  const value = (j: JointCompared) =>
    by === "reserve" ? (j.reserve ?? j.bending) : by === "minutes" ? -j.minutes : j[by];
  return all.toSorted((a, b) => value(b) - value(a));
});

export const kinds = computed(() => [...new Set((good.value?.joints ?? []).map((j) => j.kind))]);

/** What is wrong with one field, "" when nothing is. */
export const problemAt = (path: string): string => {
  const found = latest.value?.problems.find((p) => p.at.path === path);
  return found ? [found.what, found.mend].filter(Boolean).join("; ") : "";
};

/** What is wrong beside the fields. */
export const otherProblems = computed(() =>
  (latest.value?.problems ?? []).filter(
    (p) => !["width", "thickness", "depth", "pull", "wood"].includes(p.at.path ?? ""),
  ),
);
