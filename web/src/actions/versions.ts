// Looks through the saved versions of the piece on the bench and lays one on the bench again. Always
// allowed: it becomes the newest only when it is saved.

import { signal } from "@preact/signals";
import { listVersions, openVersion } from "../api/client";
import type { PieceVersion } from "../api/types";
import * as bench from "../state/bench";
import { tell, tellFailure } from "../state/message";
import { replaceText } from "./changeSize";

export const versions = signal<PieceVersion[] | null>(null);

export async function lookAtVersions(): Promise<void> {
  const id = bench.saved.value?.id;
  if (!id) return;
  versions.value = null;
  try {
    versions.value = await listVersions(id);
  } catch (cause) {
    tellFailure("The versions could not be listed", cause);
  }
}

export async function layOut(version: number): Promise<void> {
  const id = bench.saved.value?.id;
  if (!id) return;
  try {
    const piece = await openVersion(id, version);
    if (bench.saved.value?.id !== id) return;
    replaceText(piece.text);
    tell({ text: `Version ${version} lies on the bench. Save it to make it the newest, or step back.` });
  } catch (cause) {
    tellFailure(`Version ${version} was not opened`, cause);
  }
}
