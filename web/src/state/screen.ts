// What the page must know of the screen: whether the chapters have room beside the piece, whether it is
// dark, and whether it is paper.

import { computed, signal } from "@preact/signals";

function watch(query: string) {
  const list = matchMedia(query);
  const matches = signal(list.matches);
  list.addEventListener("change", () => {
    matches.value = list.matches;
  });
  return matches;
}

/** True while the page is being printed. */
export const printing = signal(false);
addEventListener("beforeprint", () => {
  printing.value = true;
});
addEventListener("afterprint", () => {
  printing.value = false;
});

/** The same condition stands in style/bench.css. */
const roomy = watch("(min-width: 60rem) and (min-height: 34rem)");

/** Whether chapters stand beside the piece instead of behind a tab; on paper there are no tabs to press. */
export const wide = computed(() => printing.value || roomy.value);
export const still = watch("(prefers-reduced-motion: reduce)");
export const dark = watch("(prefers-color-scheme: dark)");
