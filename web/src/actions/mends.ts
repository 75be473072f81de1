// Looks for single changes that make the piece hold, and takes one of them. Allowed when the piece can be planned.

import { mends } from "../api/client";
import type { Mend } from "../api/types";
import * as bench from "../state/bench";
import { tellFailure } from "../state/message";
import { atRest, planBench } from "./plan";

/** Asks for the changes once what was typed has been worked out: they belong to one text of the piece. */
export async function seekMends(): Promise<void> {
  await atRest();
  const text = bench.text.value;
  bench.mends.value = { text, list: null };
  try {
    const answer = await mends({ text });
    if (bench.mends.value?.text === text) bench.mends.value = { text, list: answer.mends };
  } catch (cause) {
    if (bench.mends.value?.text === text) bench.mends.value = null;
    tellFailure("No changes were found", cause);
  }
}

/** Puts the sizes of a change into the piece. It can be stepped back from. */
export function takeMend(mend: Mend): void {
  bench.typed.value = { ...bench.typed.value, ...mend.sizes };
  planBench(true);
}
