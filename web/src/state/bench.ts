// The piece on the bench: what was saved, what was typed since, and what the server made of it.

import { computed, signal } from "@preact/signals";
import type { ForcesAnswer, Mend, PieceSize, PlanAnswer, Problem } from "../api/types";

/** A piece as it was last saved. */
export interface Saved {
  id: string;
  name: string;
  text: string;
  version: number;
  at: string;
}

export const saved = signal<Saved | null>(null);

/** Why the piece cannot be shown at all; empty while it can. */
export const missing = signal("");

/** The piece file on the bench, without the sizes in typed. */
export const text = signal("");

/** Sizes that were typed or dragged and that the server has not put into the text yet, by name. */
export const typed = signal<Record<string, string>>({});

/** The newest answer of the server, and the newest that could be made: the one that is drawn. */
export const latest = signal<PlanAnswer | null>(null);
export const good = signal<PlanAnswer | null>(null);

/** The chapter that is open, "" for none, its text, and whether the text is older than the piece. */
export const wanted = signal("");
export const chapter = signal<{ id: string; html: string } | null>(null);
export const chapterOld = signal(false);

/** The single changes that make the piece hold, and the text that they were found for; no list while they are being sought. */
export const mends = signal<{ text: string; list: Mend[] | null } | null>(null);

/** What a part carries, while that is looked at; no answer while it is being asked for the first time. */
export const forces = signal<{ answer: ForcesAnswer | null } | null>(null);

/** Set while another save stands in the way of this one: the number of that version. */
export const conflict = signal(0);

/** When what is on the bench was typed, if it came back from an earlier visit. */
export const recovered = signal<number | null>(null);

/** Texts to step back and forward to. */
export const past = signal<string[]>([]);
export const future = signal<string[]>([]);

export const dirty = computed(() => {
  const s = saved.value;
  return s !== null && (text.value !== s.text || Object.keys(typed.value).length > 0);
});

/** What is wrong with the piece as it stands. */
export const problems = computed<Problem[]>(() => latest.value?.problems ?? []);

/** The sizes as they are shown: those of the newest answer that has any, with what was typed since. */
export const sizes = computed<PieceSize[]>(() => {
  const known = (latest.value?.piece?.sizes.length ? latest.value : good.value)?.piece?.sizes ?? [];
  return known.map((size) => {
    const own = typed.value[size.name];
    if (own === undefined) return size;
    // While what was typed cannot be read, a slider stays where it was.
    const before = size.problem ? good.value?.piece?.sizes.find((s) => s.name === size.name) : size;
    return { ...(before ?? size), problem: size.problem ?? "", text: own };
  });
});

export const units = computed(() => (good.value?.piece?.units === "inch" ? "inch" : "metric"));

export const pieceName = computed(
  () => latest.value?.piece?.name || good.value?.piece?.name || saved.value?.name || "",
);

/** What is wrong with one size, in words; "" when nothing is. */
export function problemOf(size: PieceSize): string {
  if (size.problem) return size.problem;
  const found = problems.value.find((p) => p.at.path === `sizes.${size.name}`);
  return found ? [found.what, found.mend].filter(Boolean).join("; ") : "";
}

/** The problems that are not told beside a size. */
export const otherProblems = computed(() => {
  const beside = new Set(sizes.value.map((s) => `sizes.${s.name}`));
  return problems.value.filter((p) => !beside.has(p.at.path ?? ""));
});

/** How the piece is looked at. */
export const apart = signal(0);
export const seeThrough = signal(false);
export const picked = signal("");

/** The load case to bend the piece by, "" for none, and whether the load comes and goes: only once that was asked for. */
export const bendCase = signal("");
export const swings = signal(false);
/** The place where the piece does not fit that is shown in the picture: its words, "" for none. */
export const place = signal("");

/** Which panel stands beside the picture. */
export type Panel = "sizes" | "parts" | "text" | "chapters";
export const panel = signal<Panel>("sizes");

/** Empties the bench for another piece. */
export function clearBench(): void {
  saved.value = null;
  missing.value = "";
  text.value = "";
  typed.value = {};
  latest.value = null;
  good.value = null;
  wanted.value = "";
  chapter.value = null;
  chapterOld.value = false;
  mends.value = null;
  forces.value = null;
  conflict.value = 0;
  recovered.value = null;
  past.value = [];
  future.value = [];
  apart.value = 0;
  seeThrough.value = false;
  picked.value = "";
  bendCase.value = "";
  swings.value = false;
  place.value = "";
  panel.value = "sizes";
}
