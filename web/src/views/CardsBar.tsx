// The foot of the screen: back, done, next, and below them start, stop and note. Each is 64 px high at least.

import { useSignal } from "@preact/signals";
import { note, tickOff, turn } from "../actions/cards";
import type { Card } from "../api/cards";
import { cards, doing, place } from "../state/cards";

export function CardBar({ card }: { card: Card }) {
  const state = doing(card);
  const writing = useSignal(false);
  const text = useSignal("");
  return (
    <nav class="card-bar" aria-label="Card">
      {writing.value && (
        <form
          class="card-note"
          onSubmit={(e) => {
            e.preventDefault();
            const words = text.value.trim();
            writing.value = false;
            text.value = "";
            if (words !== "") void note(card, "note", words);
          }}
        >
          <label>
            Note
            <input
              type="text"
              maxLength={2000}
              value={text.value}
              onInput={(e) => {
                text.value = e.currentTarget.value;
              }}
            />
          </label>
          <button type="submit">Keep</button>
        </form>
      )}
      <div class="card-row">
        {state === "running" ? (
          <button type="button" class="quiet" onClick={() => void note(card, "stop")}>
            Stop
          </button>
        ) : (
          <button
            type="button"
            class="quiet"
            disabled={state === "done"}
            onClick={() => void note(card, "start")}
          >
            {state === "started" ? "Go on" : "Start"}
          </button>
        )}
        <button
          type="button"
          class="quiet"
          aria-expanded={writing.value}
          onClick={() => {
            writing.value = !writing.value;
          }}
        >
          Note
        </button>
      </div>
      <div class="card-row main">
        <button type="button" class="quiet" disabled={place.value === 0} onClick={() => turn(-1)}>
          Back
        </button>
        {state === "done" ? (
          <button type="button" class="quiet" onClick={() => void note(card, "undo")}>
            Not done
          </button>
        ) : (
          <button type="button" class="done" onClick={() => void tickOff(card)}>
            Done
          </button>
        )}
        <button
          type="button"
          class="quiet"
          disabled={place.value >= cards.value.length - 1}
          onClick={() => turn(1)}
        >
          Next
        </button>
      </div>
    </nav>
  );
}
