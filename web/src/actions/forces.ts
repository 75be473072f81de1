// Looks up what a part carries under a load case. Allowed when the piece can be planned.

import { forces } from "../api/client";
import * as bench from "../state/bench";
import { tellFailure } from "../state/message";
import { atRest } from "./plan";

let asked = 0;

/** Asks once what was typed has been worked out. Without a part it is the one used hardest, without a load the one that uses it hardest. */
export async function askForces(part: string, load: string): Promise<void> {
  const turn = ++asked;
  if (!bench.forces.peek()) bench.forces.value = { answer: null };
  await atRest();
  try {
    const answer = await forces({ text: bench.text.peek(), part, case: load });
    if (turn === asked && bench.forces.peek()) bench.forces.value = { answer };
  } catch (cause) {
    if (turn !== asked) return;
    if (!bench.forces.peek()?.answer) bench.forces.value = null;
    tellFailure("The forces were not worked out", cause);
  }
}

/** Puts the forces away. */
export function closeForces(): void {
  asked++;
  bench.forces.value = null;
}
