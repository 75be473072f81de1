// Opens a chapter of the plan, or closes it when it is open. One is open at a time. Always allowed.

import * as bench from "../state/bench";
import { planBench } from "./plan";

export function toggleChapter(id: string): void {
  if (bench.wanted.value === id) {
    bench.wanted.value = "";
    bench.chapter.value = null;
    return;
  }
  bench.wanted.value = id;
  bench.chapter.value = null;
  planBench(true);
}
