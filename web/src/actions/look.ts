// Shows the piece as it stands, bent, through the year, or being put together. Allowed whenever a plan could be made.

import { batch } from "@preact/signals";
import * as bench from "../state/bench";
import * as looks from "../state/looks";
import { still } from "../state/screen";
import { bendBy } from "./bend";

export function showLook(look: looks.Look): void {
  batch(() => {
    looks.look.value = look;
    looks.playing.value = look === "together" && !still.peek();
    if (look === "together") looks.step.value = 0;
    if (look === "year") looks.month.value = dampest();
    if (look !== "piece") bench.apart.value = 0;
    if (look !== "bend") bench.bendCase.value = "";
  });
  // The load that moves it most comes first.
  if (look === "bend") bendBy(bench.good.peek()?.bends[0] ?? "");
}

function dampest(): number {
  const months = bench.good.peek()?.scene?.year?.months ?? [];
  return months.reduce((most, m, i) => (m.share > (months[most]?.share ?? 0) ? i : most), 0);
}
