// What a part carries under a load: a drawing by the server and its largest values in a table. The part is chosen from a list
// or by pressing it in the picture.

import { useSignalEffect } from "@preact/signals";
import { useEffect, useId } from "preact/hooks";
import { askForces, closeForces } from "../actions/forces";
import type { ForcesAnswer } from "../api/types";
import * as bench from "../state/bench";

export function Forces() {
  const shown = bench.forces.value;
  const written = bench.chapter.value;
  // Another text of the piece: the same part and load again.
  useEffect(() => {
    const now = bench.forces.peek()?.answer;
    if (now) void askForces(now.part, now.case);
  }, [written]);
  // Pressing a part in the picture chooses it here too.
  useSignalEffect(() => {
    const picked = bench.picked.value;
    const now = bench.forces.peek()?.answer;
    if (now && picked !== now.part && now.parts.some((part) => part.id === picked))
      void askForces(picked, "");
  });
  if (!shown) {
    return (
      <div class="forces">
        <button type="button" onClick={() => void askForces(bench.picked.peek(), "")}>
          What a part carries
        </button>
      </div>
    );
  }
  if (!shown.answer) {
    return (
      <p class="forces soft" role="status">
        Looking it up …
      </p>
    );
  }
  return <Shown answer={shown.answer} />;
}

function Shown({ answer }: { answer: ForcesAnswer }) {
  const heading = useId();
  const part = answer.parts.find((p) => p.id === answer.part);
  const choose = (id: string) => {
    bench.picked.value = id; // asks for it, see above
  };
  return (
    <section class="forces" aria-labelledby={heading}>
      <div class="row forces-head">
        <h4 id={heading}>What a part carries</h4>
        <button type="button" class="quiet" onClick={closeForces}>
          Put away
        </button>
      </div>
      <div class="fields">
        <label>
          <span>Part</span>
          <select value={answer.part} onChange={(event) => choose(event.currentTarget.value)}>
            {!part && <option value={answer.part}>{answer.part}</option>}
            {answer.parts.map((p) => (
              <option key={p.id} value={p.id}>
                {p.id} {p.name}
              </option>
            ))}
          </select>
        </label>
        <label>
          <span>Under</span>
          <select
            value={answer.case}
            onChange={(event) => void askForces(answer.part, event.currentTarget.value)}
          >
            {!answer.cases.includes(answer.case) && <option value={answer.case}>{answer.case}</option>}
            {answer.cases.map((name) => (
              <option key={name} value={name}>
                {name}
              </option>
            ))}
          </select>
        </label>
      </div>
      <p role="status">{answer.words || "Nothing is known of this part under this load."}</p>
      {answer.drawing && (
        <div class="document">
          {/* The server draws this and escapes every word of the piece in it. */}
          <section
            class="picture"
            // biome-ignore lint/a11y/noNoninteractiveTabindex: a drawing wider than a phone slides, also by keys.
            tabIndex={0}
            aria-label={`Forces along the ${part?.name ?? answer.part}`}
            dangerouslySetInnerHTML={{ __html: answer.drawing }}
          />
        </div>
      )}
      {answer.curves.length > 0 && (
        <details>
          <summary>The same in words</summary>
          <dl>
            {answer.curves.map((curve) => (
              <div key={curve.name}>
                <dt>{curve.name}</dt>
                <dd>
                  Above the line: {curve.mostAbove}. Below it: {curve.mostBelow}.
                </dd>
              </div>
            ))}
          </dl>
        </details>
      )}
    </section>
  );
}
