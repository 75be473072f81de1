// What to say when two people ticked the same task off.

import type { WorkClash } from "../api/cards";
import { spokenTime } from "./spoken";

/** Tells which ticks came too late, and whose stay. */
export function clashWords(clashes: WorkClash[]): string {
  return clashes
    .map(
      (c) =>
        `“${c.name || c.task}” was ticked off before, ${spokenTime(c.at)}${c.by === "" ? " at the desk" : ` on ${c.by}`}. That stays; yours was not counted`,
    )
    .join(". ");
}
