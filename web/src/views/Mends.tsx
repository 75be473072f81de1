// What would make the piece hold: single changes, each worked out as a whole plan, with a button that takes it.

import { seekMends, takeMend } from "../actions/mends";
import type { Mend } from "../api/types";
import * as bench from "../state/bench";
import { Word } from "./Word";

export function Mends() {
  const found = bench.mends.value;
  const current =
    found !== null && found.text === bench.text.value && Object.keys(bench.typed.value).length === 0;
  if (!current) {
    return (
      <div class="mends">
        <button type="button" onClick={() => void seekMends()}>
          What one change would do
        </button>
      </div>
    );
  }
  if (found.list === null) {
    return (
      <p class="mends soft" role="status">
        Trying changes …
      </p>
    );
  }
  if (found.list.length === 0) {
    return (
      <p class="mends" role="status">
        No single change that was tried comes nearer.
      </p>
    );
  }
  return (
    <ul class="mends" aria-label="What one change would do">
      {found.list.map((mend) => (
        <Change key={mend.change} mend={mend} />
      ))}
    </ul>
  );
}

function Change({ mend }: { mend: Mend }) {
  const hours = `${mend.hours < 0 ? "−" : "+"}${Math.abs(mend.hours)} h`;
  return (
    <li>
      <div>
        <strong>{mend.change.charAt(0).toUpperCase() + mend.change.slice(1)}</strong>
        <span class="soft">
          Reserve of {mend.mends}. {mend.money.replace("-", "−\u2060")}, {hours}.
          {mend.short && " Not enough, but no single change does more."}
          {!mend.short &&
            mend.word === "does not hold" &&
            " Something else still does not hold: take another change after it."}
        </span>
      </div>
      <Word word={mend.word} />
      {Object.keys(mend.sizes).length > 0 && (
        <button type="button" aria-label={`Use this: ${mend.change}`} onClick={() => takeMend(mend)}>
          Use this
        </button>
      )}
    </li>
  );
}
