// Shows how the piece bends under a load case, or lets it stand straight. Allowed whenever a plan could be made.

import * as bench from "../state/bench";
import { planBench } from "./plan";

export function bendBy(name: string): void {
  if (name === bench.bendCase.peek()) return;
  bench.bendCase.value = name;
  if (name) planBench(true);
}
