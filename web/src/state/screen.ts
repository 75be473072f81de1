// What the page must know of the screen: whether the chapters have room beside the piece, and whether
// it is dark.

import { signal } from "@preact/signals";

function watch(query: string) {
  const list = matchMedia(query);
  const matches = signal(list.matches);
  list.addEventListener("change", () => {
    matches.value = list.matches;
  });
  return matches;
}

/** The same condition stands in style/bench.css. */
export const wide = watch("(min-width: 60rem) and (min-height: 34rem)");
export const dark = watch("(prefers-color-scheme: dark)");
