// The lessons, and the one that is open with the values that were dragged.

import { signal } from "@preact/signals";
import type { LessonAnswer, LessonInfo } from "../api/types";

export const lessons = signal<LessonInfo[] | null>(null);

/** What was dragged, by lesson and input: it stays while the page is open. */
export const values = signal<Record<string, Record<string, number>>>({});

/** The newest answer, with the lesson that it belongs to. */
export const answer = signal<{ id: string; answer: LessonAnswer } | null>(null);
