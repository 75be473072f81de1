// Saves the piece on the bench as a new version. Allowed when something was changed and every size
// that was typed can be read. When somebody else saved in between, nothing is lost on either side: the
// person is asked.

import { Conflict, savePiece as sendPiece } from "../api/client";
import * as bench from "../state/bench";
import { dropDraft } from "../state/draft";
import { tell, tellFailure } from "../state/message";
import { asSaved, openPiece } from "./openPiece";
import { atRest, planBench } from "./plan";

export async function savePiece(): Promise<void> {
  // A field may still have the focus, with a size in it that nobody has worked out.
  if (Object.keys(bench.typed.value).length > 0) planBench(true);
  await atRest();
  const before = bench.saved.value;
  if (!before || !bench.dirty.value) return;
  if (Object.keys(bench.typed.value).length > 0) {
    tell({ text: "Not saved yet: mend the size that is marked, or step back.", bad: true });
    return;
  }
  const text = bench.text.value;
  try {
    const after = await sendPiece(before.id, text, before.version, "");
    if (bench.saved.value?.id !== before.id) return;
    bench.saved.value = asSaved(after, text);
    bench.conflict.value = 0;
    bench.recovered.value = null;
    if (bench.text.value === text) dropDraft(before.id);
    tell({ text: `Saved as version ${after.version}.` });
  } catch (cause) {
    if (cause instanceof Conflict) bench.conflict.value = cause.current;
    else tellFailure("The piece was not saved", cause);
  }
}

/** Answers a conflict by saving on top of the other version, which stays in the list of versions. */
export async function saveOnTop(): Promise<void> {
  const saved = bench.saved.value;
  if (!saved) return;
  bench.saved.value = { ...saved, version: bench.conflict.value };
  bench.conflict.value = 0;
  await savePiece();
}

/** Answers a conflict by taking the other version; what was typed here is given up. */
export function takeTheirs(): void {
  const saved = bench.saved.value;
  if (!saved) return;
  dropDraft(saved.id);
  void openPiece(saved.id);
}
