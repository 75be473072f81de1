// Puts a piece on the bench: the saved text, or what was typed on it and not saved. Always allowed.

import { openPiece as fetchPiece, Refused, Unreachable } from "../api/client";
import type { Piece, SavedPiece } from "../api/types";
import * as bench from "../state/bench";
import { lost, whenBack } from "../state/connection";
import { dropDraft, findDraft } from "../state/draft";
import { clearLooks } from "../state/looks";
import { planBench, rememberFrom } from "./plan";

export async function openPiece(id: string): Promise<void> {
  bench.clearBench();
  clearLooks();
  let piece: Piece;
  try {
    piece = await fetchPiece(id);
  } catch (cause) {
    bench.missing.value = whyMissing(cause);
    if (cause instanceof Unreachable) {
      lost();
      const stop = whenBack(() => {
        stop();
        void openPiece(id);
      });
    }
    return;
  }
  show(piece);
}

function whyMissing(cause: unknown): string {
  if (cause instanceof Refused && cause.status === 404) return "There is no such piece on this shelf.";
  if (cause instanceof Unreachable)
    return "Longgrain does not answer, so the piece cannot be fetched. It opens as soon as it is back.";
  return cause instanceof Error
    ? `The piece could not be opened: ${cause.message}.`
    : "The piece could not be opened.";
}

/** The code of a label leads to /piece/<id>#part-<mark>: that part is marked and its cuts are listed. */
function showPartOfAddress(): void {
  const mark = /^#part-(\w+)$/.exec(location.hash)?.[1];
  if (!mark) return;
  bench.picked.value = mark;
  bench.panel.value = "parts";
}

function show(piece: Piece): void {
  bench.saved.value = asSaved(piece, piece.text);
  bench.text.value = piece.text;
  const draft = findDraft(piece.id);
  if (draft && (draft.text !== piece.text || Object.keys(draft.typed).length > 0)) {
    bench.text.value = draft.text;
    bench.typed.value = draft.typed;
    bench.recovered.value = draft.at;
    // A save from this base is refused when somebody saved since, and the person is asked.
    bench.saved.value = { ...asSaved(piece, piece.text), version: draft.base };
  }
  rememberFrom(bench.text.value);
  showPartOfAddress();
  planBench(true);
}

export const asSaved = (piece: SavedPiece | Piece, text: string): bench.Saved => ({
  id: piece.id,
  name: piece.name,
  text,
  version: piece.version,
  at: piece.saved,
});

/** Drops what was typed since the last save. */
export function dropChanges(): void {
  const saved = bench.saved.value;
  if (!saved) return;
  dropDraft(saved.id);
  void openPiece(saved.id);
}
