// The joint bench: what is to be joined, every joint that the shop can make there as a picture and as a table, and the
// shop's own tests laid over.

import { useEffect } from "preact/hooks";
import { chooseConnection, layOut, typeFree } from "../actions/joints";
import { lookAtShelf } from "../actions/shelf";
import type { JointCompared } from "../api/types";
import * as joints from "../state/joints";
import { goTo, jointsAddress, pieceAddress } from "../state/route";
import { shelf } from "../state/shelf";
import { Drawing } from "./Drawing";
import { Head } from "./Head";
import { Problems } from "./Problems";
import { Word } from "./Word";

export function JointsPage({ piece }: { piece: string }) {
  useEffect(() => {
    document.title = "Joints · Longgrain";
    void layOut(piece);
    void lookAtShelf();
  }, [piece]);
  const answer = joints.good.value;
  return (
    <>
      <Head here="joints" />
      <main class="tests-page">
        <h1>Joint bench</h1>
        <p>
          Every joint that the tools of your shop can make at one place, by how much of the load it bears, the
          glue it has on long grain, and the time it takes.
        </p>
        <Question piece={piece} />
        {joints.otherProblems.value.length > 0 && (
          <Problems title="This cannot be compared" problems={joints.otherProblems.value} />
        )}
        {answer ? <Answer /> : joints.latest.value === null && <p class="soft">Comparing …</p>}
      </main>
    </>
  );
}

function Question({ piece }: { piece: string }) {
  const pieces = shelf.value?.pieces ?? [];
  const groups = joints.good.value?.groups ?? [];
  return (
    <form class="sheet grid" aria-labelledby="question-title" onSubmit={(event) => event.preventDefault()}>
      <h2 id="question-title">What is joined</h2>
      <div class="fields">
        <div class="field">
          <label for="joint-piece">Where</label>
          <select
            id="joint-piece"
            value={piece}
            onChange={(event) => {
              const id = event.currentTarget.value;
              goTo(id ? jointsAddress(id) : "/joints");
            }}
          >
            <option value="">sizes typed here</option>
            {pieces.map((p) => (
              <option key={p.id} value={p.id}>
                {p.name}
              </option>
            ))}
          </select>
        </div>
        {piece && (
          <div class="field">
            <label for="joint-connection">Connection</label>
            <select
              id="joint-connection"
              value={joints.connection.value || groups[0]}
              onChange={(event) => chooseConnection(event.currentTarget.value)}
            >
              {groups.map((name) => (
                <option key={name} value={name}>
                  {name}
                </option>
              ))}
            </select>
          </div>
        )}
        {!piece && (
          <>
            <Field name="wood" title="Wood" list={joints.latest.value?.species ?? []} />
            <Field name="width" title="Width of the rail" />
            <Field name="thickness" title="Thickness of the rail" />
            <Field name="depth" title="Depth of the post" />
            <Field name="bend" title="Bending the strong way, N·m" />
            <Field name="sideways" title="Bending the weak way, N·m" />
            <Field name="pull" title="Pulling it apart" help="200 N or 45 lbf; empty for none" />
          </>
        )}
      </div>
      {piece && (
        <p>
          The loads are those of the piece. <a href={pieceAddress(piece)}>To the piece</a>
        </p>
      )}
    </form>
  );
}

function Field(props: { name: keyof joints.Free; title: string; help?: string; list?: string[] }) {
  const { name, title, help, list } = props;
  const wrong = joints.problemAt(name);
  const id = `joint-${name}`;
  return (
    <div class="field" data-bad={wrong !== ""}>
      <label for={id}>{title}</label>
      <input
        id={id}
        type="text"
        list={list ? `${id}-list` : undefined}
        value={joints.free.value[name]}
        aria-invalid={wrong !== ""}
        aria-describedby={`${id}-more`}
        onInput={(event) => typeFree(name, event.currentTarget.value)}
      />
      {list && (
        <datalist id={`${id}-list`}>
          {list.map((w) => (
            <option key={w} value={w} />
          ))}
        </datalist>
      )}
      <p id={`${id}-more`} class={wrong ? "wrong" : "soft small"}>
        {wrong || help}
      </p>
    </div>
  );
}

function Answer() {
  const answer = joints.good.value;
  if (!answer) return null;
  const chosen = answer.joints.find((j) => j.chosen);
  return (
    <>
      <section class="sheet grid" aria-labelledby="compared-title">
        <h2 id="compared-title">{answer.title}</h2>
        <p role="status">
          {chosen ? (
            <>
              <strong>Chosen: {chosen.name}</strong>, {answer.why}.
            </>
          ) : (
            answer.why
          )}
        </p>
        <Drawing svg={answer.svg} label="The comparison as a picture; the table below says the same" />
        {answer.tests.length > 0 ? (
          <ul class="sentences">
            {answer.tests.map((t) => (
              <li key={t}>{t}</li>
            ))}
          </ul>
        ) : (
          <p class="soft">None of your own tests is of these kinds yet.</p>
        )}
        <p>
          <a href="/tests">Enter a break in the test log</a>
        </p>
        {answer.rules.map((r) => (
          <p key={r}>{r}</p>
        ))}
      </section>
      <Table />
    </>
  );
}

const columns: [joints.Column, string][] = [
  ["reserve", "reserve"],
  ["bending", "strength"],
  ["long", "glue on long grain"],
  ["minutes", "time, the quickest first"],
];

function Table() {
  const rows = joints.rows.value;
  return (
    <section class="sheet grid" aria-labelledby="table-joints">
      <h2 id="table-joints">
        {rows.length} joint{rows.length === 1 ? "" : "s"}
      </h2>
      <div class="fields">
        <div class="field">
          <label for="joint-kind">Show</label>
          <select
            id="joint-kind"
            value={joints.kind.value}
            onChange={(event) => {
              joints.kind.value = event.currentTarget.value;
            }}
          >
            <option value="">all kinds</option>
            {joints.kinds.value.map((k) => (
              <option key={k} value={k}>
                {k}
              </option>
            ))}
          </select>
        </div>
        <div class="field">
          <label for="joint-sort">Best first by</label>
          <select
            id="joint-sort"
            value={joints.sort.value}
            onChange={(event) => {
              joints.sort.value = event.currentTarget.value as joints.Column;
            }}
          >
            {columns.map(([column, title]) => (
              <option key={column} value={column}>
                {title}
              </option>
            ))}
          </select>
        </div>
      </div>
      <ul class="compared">
        {rows.map((j) => (
          <Row key={`${j.kind} ${j.name}`} joint={j} />
        ))}
      </ul>
    </section>
  );
}

const whole = (x: number) => Math.round(x).toString();

function Row({ joint: j }: { joint: JointCompared }) {
  return (
    <li class="compared-joint" data-chosen={j.chosen}>
      <p>
        <strong>{j.name}</strong>
        {j.chosen && <span class="soft"> chosen</span>}
      </p>
      {j.verdict && <Word word={j.verdict} />}
      <p class="small">
        {j.reserve !== undefined && <>reserve {j.reserve.toFixed(1)}, </>}
        {j.limit && <>{j.limit} gives way first, </>}
        {j.bending.toFixed(j.bending < 10 ? 1 : 0)} N·m bent the strong way; glue {whole(j.long)} cm² on long
        grain
        {j.end >= 0.5 && <> and {whole(j.end)} on end grain, which does not count</>}; {whole(j.minutes)} min,
        hardware {j.cost}, {j.shows}
        {j.rules && <>; breaks {j.rules}</>}
      </p>
    </li>
  );
}
