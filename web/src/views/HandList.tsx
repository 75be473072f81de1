// The list of what was changed by hand, each with a way to take it out, and what no longer fits beside it.

import { takeOutChange } from "../actions/editPiece";
import * as bench from "../state/bench";
import { type Item, items, problemAt, shown } from "../state/hand";
import { Icon } from "./Icon";

export function HandList() {
  const changes = items("changes");
  if (changes.length === 0) return null;
  return (
    <section class="by-hand" aria-labelledby="by-hand-title">
      <h3 id="by-hand-title">Changed by hand</h3>
      <ul>
        {changes.map((change, index) => (
          <Row key={`${index} ${shown(change)}`} change={change} index={index} />
        ))}
      </ul>
    </section>
  );
}

function Row({ change, index }: { change: Item; index: number }) {
  const of = shown(change.part ?? change.between).replace(", ", " to ");
  const told = bench.good.value?.byHand?.changed.filter((c) => c.index === index && of.includes(c.of)) ?? [];
  const wrong = problemAt(`changes[${index}]`) || told.find((c) => c.misfit)?.misfit || "";
  const what =
    told.length > 0 ? told.map((c) => `${c.what} ${c.now}, was ${c.was}`).join("; ") : plain(change);
  return (
    <li data-bad={wrong !== ""}>
      <span>
        <strong>{of}</strong>: {what}
        {wrong && (
          <span class="wrong">
            <Icon name="does not hold" />
            {wrong}
          </span>
        )}
      </span>
      <button type="button" class="quiet" onClick={() => void takeOutChange(index)}>
        Take it out<span class="unseen"> {of}</span>
      </button>
    </li>
  );
}

/** What a change says, as it is written. */
function plain(change: Item): string {
  const { part: _, between: __, ...rest } = change;
  if (shown(rest.out) === "yes") return "left out";
  return shown(rest);
}
