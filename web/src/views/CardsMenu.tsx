// All cards as a list, and what else can be done with them: carry them away, bring ticks back, let a phone in.

import { useSignal } from "@preact/signals";
import { bringTicks, showCard } from "../actions/cards";
import { carryAddress } from "../api/cards";
import { answer, cards, doing, place, shelf } from "../state/cards";
import { shopClock } from "../state/work";
import { CardsPhone } from "./CardsPhone";

const words = { open: "", started: "begun", running: "under way", done: "done" };

export function CardsMenu({ close }: { close: () => void }) {
  const deck = answer.value?.deck;
  const desk = shelf.value?.phone === "";
  let day = "";
  return (
    <main class="card">
      <h1>All cards</h1>
      {deck?.end && <p>Done by {deck.end}, if all goes as planned.</p>}
      <ol class="card-list">
        {cards.value.map((c, k) => {
          const first = c.day !== day;
          day = c.day;
          const state = doing(c);
          return (
            <li key={c.tasks[0]?.id}>
              {first && <h2>{c.day}</h2>}
              <button
                type="button"
                class="quiet"
                data-state={state}
                aria-current={k === place.value}
                onClick={() => {
                  showCard(k);
                  close();
                }}
              >
                <span>
                  {c.number}. {c.title}
                </span>
                <span class="soft">{[c.at, words[state]].filter(Boolean).join(" · ")}</span>
              </button>
            </li>
          );
        })}
      </ol>
      {deck && deck.notes.length > 0 && (
        <>
          <h2>Mind</h2>
          <ul class="card-mind">
            {deck.notes.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </>
      )}
      <h2>Without this page</h2>
      <p>All cards in one file, with their drawings. It opens without network and keeps ticks of its own.</p>
      <p>
        <a
          class="button quiet"
          href={carryAddress(answer.value?.id ?? "", shopClock(new Date()))}
          download=""
        >
          Carry all cards away
        </a>
      </p>
      <Bring />
      {desk && <CardsPhone />}
      <p>
        <a class="button quiet" href="/cards">
          Other pieces
        </a>
        {desk && (
          <a class="button quiet" href={`/piece/${encodeURIComponent(answer.value?.id ?? "")}`}>
            The piece
          </a>
        )}
      </p>
    </main>
  );
}

function Bring() {
  const text = useSignal("");
  const wrong = useSignal("");
  return (
    <details class="card-bring">
      <summary>Bring ticks back</summary>
      <form
        onSubmit={(e) => {
          e.preventDefault();
          void bringTicks(text.value).then((found) => {
            wrong.value = found;
            if (found === "") text.value = "";
          });
        }}
      >
        <label>
          What “Copy my ticks” of the file gave
          <textarea
            rows={4}
            value={text.value}
            onInput={(e) => {
              text.value = e.currentTarget.value;
            }}
          />
        </label>
        {wrong.value && <p role="alert">Nothing was brought back: {wrong.value}.</p>}
        <button type="submit">Bring back</button>
      </form>
    </details>
  );
}
