// Below the chapters of timber and boards: what something else would cost, what stays over, and the faults of the
// boards on hand on a picture of each.

import { useSignal } from "@preact/signals";
import { useEffect, useId } from "preact/hooks";
import { askBoards, asking, boards, putOnRack } from "../actions/boards";
import type { BoardsSummary, WhatIf } from "../api/types";
import * as bench from "../state/bench";
import { Rack } from "./Rack";

export function BoardTools({ chapter }: { chapter: "timber" | "boards" }) {
  const written = bench.chapter.value;
  useEffect(() => {
    void askBoards();
  }, [written]);
  if (!boards.value) return null;
  return (
    <div class="board-tools">
      {chapter === "timber" ? (
        <Change />
      ) : (
        <>
          <Over />
          <Rack />
        </>
      )}
    </div>
  );
}

const changes = {
  kerf: "Another saw cut",
  length: "Another length",
  board: "One more board on hand",
} as const;
type Change = keyof typeof changes;

/** What the boards would come to with one thing changed. Nothing is saved. */
function Change() {
  const kind = useSignal<Change>("kerf");
  const timber = boards.value?.timber ?? [];
  const inch = bench.units.value === "inch";
  const kerf = useSignal(inch ? "3/32 in" : "2.4 mm");
  const size = useSignal(timber[0] ?? "");
  const length = useSignal(inch ? "14 ft" : "4.2 m");
  const price = useSignal("");
  const species = useSignal(bench.good.value?.scene?.parts[0]?.species ?? "");
  const thickness = useSignal(inch ? "3/4 in" : "19 mm");
  const width = useSignal(inch ? "7 1/4 in" : "184 mm");
  const long = useSignal(inch ? "8 ft" : "2.4 m");
  const ask = (event: Event) => {
    event.preventDefault();
    const change: WhatIf = {};
    if (kind.value === "kerf") change.kerf = kerf.value;
    if (kind.value === "length") {
      change.timber = size.value;
      change.length = length.value;
      if (Number(price.value) > 0) change.price = Number(price.value);
    }
    if (kind.value === "board")
      change.board = {
        species: species.value.replace(/-/g, " "),
        thickness: thickness.value,
        width: width.value,
        length: long.value,
      };
    void askBoards(change);
  };
  const answer = boards.value;
  return (
    <section aria-label="What if">
      <h4>What if</h4>
      <form onSubmit={ask}>
        <fieldset class="row">
          <legend class="unseen">What to change</legend>
          {(Object.keys(changes) as Change[]).map((c) => (
            <button
              key={c}
              type="button"
              class="quiet"
              aria-pressed={kind.value === c}
              onClick={() => (kind.value = c)}
            >
              {changes[c]}
            </button>
          ))}
        </fieldset>
        <div class="fields">
          {kind.value === "kerf" && <Field title="The saw takes" value={kerf} />}
          {kind.value === "length" && (
            <>
              <label>
                Size
                <select value={size.value} onChange={(e) => (size.value = e.currentTarget.value)}>
                  {timber.map((t) => (
                    <option key={t}>{t}</option>
                  ))}
                </select>
              </label>
              <Field title="Length" value={length} />
              <Field title="Price each (may be left out)" value={price} />
            </>
          )}
          {kind.value === "board" && (
            <>
              <Field title="Species" value={species} />
              <Field title="Thickness" value={thickness} />
              <Field title="Width" value={width} />
              <Field title="Length" value={long} />
            </>
          )}
        </div>
        <button type="submit" disabled={asking.value}>
          {asking.value ? "Laying it out …" : "Lay it out"}
        </button>
      </form>
      <div role="status">
        {answer && answer.problems.length > 0 && (
          <p class="wrong">{answer.problems.map((p) => `${p.what}; ${p.mend}`).join(". ")}</p>
        )}
        {answer?.now && answer.then && <Both now={answer.now} then={answer.then} />}
      </div>
    </section>
  );
}

function Field({ title, value }: { title: string; value: { value: string } }) {
  const id = useId();
  return (
    <label for={id}>
      {title}
      <input id={id} type="text" value={value.value} onInput={(e) => (value.value = e.currentTarget.value)} />
    </label>
  );
}

function Both({ now, then }: { now: BoardsSummary; then: BoardsSummary }) {
  const less = (now.cents - then.cents) / 100;
  return (
    <>
      <p>
        <strong>
          {then.fault
            ? `There is no plan: ${then.fault}.`
            : less === 0
              ? "The boards to buy cost the same."
              : `The boards to buy cost ${Math.abs(less).toFixed(2)} ${less > 0 ? "less" : "more"}.`}
        </strong>
      </p>
      <div class="table-box">
        <table>
          <thead>
            <tr>
              <th scope="col">
                <span class="unseen">What</span>
              </th>
              <th scope="col">As it is</th>
              <th scope="col">With the change</th>
            </tr>
          </thead>
          <tbody>
            <Row title="To buy" of={(s) => s.cost} now={now} then={then} />
            <Row title="Ask for" of={(s) => s.buy.join("; ") || "nothing"} now={now} then={then} />
            <Row title="From the rack" of={(s) => `${s.onHand} boards`} now={now} then={then} />
            <Row title="Waste" of={(s) => `${Math.round(100 * s.waste)} %`} now={now} then={then} />
            <Row title="How good" of={(s) => s.proof} now={now} then={then} />
          </tbody>
        </table>
      </div>
    </>
  );
}

function Row(p: {
  title: string;
  of: (s: BoardsSummary) => string;
  now: BoardsSummary;
  then: BoardsSummary;
}) {
  return (
    <tr>
      <th scope="row">{p.title}</th>
      <td>{p.of(p.now)}</td>
      <td>{p.of(p.then)}</td>
    </tr>
  );
}

/** What stays over, and the button that puts it on the rack when the boards are cut. */
function Over() {
  const sure = useSignal(false);
  const rest = boards.value?.rest ?? [];
  const used = (boards.value?.rack ?? []).filter((b) => b.used).map((b) => b.name);
  return (
    <section aria-label="When the boards are cut">
      <h4>When the boards are cut</h4>
      <p>
        {used.length > 0 && `${used.join(", ")} ${used.length > 1 ? "come" : "comes"} off the rack. `}
        {rest.length > 0 ? "This stays over and goes on it:" : "Nothing stays over that is worth keeping."}
      </p>
      {rest.length > 0 && (
        <ul>
          {rest.map((line, i) => (
            <li key={`${i} ${line}`}>{line}</li>
          ))}
        </ul>
      )}
      <div class="row">
        {!sure.value ? (
          <button
            type="button"
            class="quiet"
            disabled={used.length + rest.length === 0}
            onClick={() => (sure.value = true)}
          >
            Put what stays over on the rack
          </button>
        ) : (
          <>
            <button
              type="button"
              onClick={async () => {
                sure.value = false;
                await putOnRack();
              }}
            >
              Confirm: the boards are cut
            </button>
            <button type="button" class="quiet" onClick={() => (sure.value = false)}>
              Not yet
            </button>
          </>
        )}
      </div>
    </section>
  );
}
