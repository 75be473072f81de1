// Opens a lesson and works it out anew while its inputs are dragged. Allowed at any time; the newest values win.

import * as api from "../api/client";
import { NewestWins } from "../api/queue";
import type { LessonAnswer } from "../api/types";
import * as lessons from "../state/lessons";
import { tellFailure } from "../state/message";

interface Asked {
  id: string;
  values: Record<string, number>;
}

const line = new NewestWins<Asked, LessonAnswer>(
  ({ id, values }) => api.makeLesson(id, values),
  (answer, { id }) => {
    lessons.answer.value = { id, answer };
  },
  (cause) => tellFailure("The lesson was not worked out", cause),
);

export async function listLessons(): Promise<void> {
  if (lessons.lessons.peek()) return;
  try {
    lessons.lessons.value = await api.listLessons();
  } catch (cause) {
    tellFailure("The lessons could not be shown", cause);
  }
}

export function openLesson(id: string): void {
  line.submit({ id, values: lessons.values.peek()[id] ?? {} });
}

export function dragInput(id: string, name: string, value: number): void {
  if (Number.isNaN(value)) return;
  const own = { ...lessons.values.peek()[id], [name]: value };
  lessons.values.value = { ...lessons.values.peek(), [id]: own };
  line.submit({ id, values: own });
}
