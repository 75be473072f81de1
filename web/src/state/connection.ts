// Whether the server answers. While it does not, the page asks again and again and tells when it is back.

import { signal } from "@preact/signals";
import { answers } from "../api/client";

/** How long to wait between two questions, ms: soon enough not to be noticed after a restart. */
const ASK_AGAIN = 2000;

export const reachable = signal(true);

const onReturn = new Set<() => void>();

/** Calls back each time the server answers again after it was gone. */
export function whenBack(callBack: () => void): () => void {
  onReturn.add(callBack);
  return () => onReturn.delete(callBack);
}

/** Notes that the server did not answer, and begins to ask. */
export function lost(): void {
  if (!reachable.value) return;
  reachable.value = false;
  const ask = async () => {
    if (await answers()) {
      reachable.value = true;
      for (const callBack of [...onReturn]) callBack();
    } else {
      setTimeout(ask, ASK_AGAIN);
    }
  };
  setTimeout(ask, ASK_AGAIN);
}
