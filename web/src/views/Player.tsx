// Plays something that goes on in steps: by itself, one step at a time, or by hand. Where less motion is wanted it
// goes in whole steps only.

import type { Signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import * as looks from "../state/looks";
import { still } from "../state/screen";
import { Icon } from "./Icon";

interface Props {
  what: string;
  unit: string;
  /** Where it stands, from 0. */
  time: Signal<number>;
  last: number;
  /** Begins again at its end, as a year does. */
  around: boolean;
  /** What a whole step is called. */
  name: (step: number) => string;
}

/** How long one step plays, ms. Judgement: slow enough to see what goes where. */
const STEP = 1500;

export function Player({ what, unit, time, last, around, name }: Props) {
  const playing = looks.playing.value && !still.value;
  useEffect(() => {
    if (!playing) return;
    if (time.peek() >= last) time.value = 0;
    let frame = 0;
    let before = performance.now();
    const go = (now: number) => {
      const next = time.peek() + (now - before) / STEP;
      before = now;
      if (next >= last && !around) {
        time.value = last;
        looks.playing.value = false;
        return;
      }
      time.value = next > last ? 0 : next;
      frame = requestAnimationFrame(go);
    };
    frame = requestAnimationFrame(go);
    return () => cancelAnimationFrame(frame);
  }, [playing, time, last, around]);
  const to = (step: number) => {
    looks.playing.value = false;
    time.value = Math.min(Math.max(step, 0), last);
  };
  const here = Math.min(time.value, last);
  return (
    <div class="player">
      <button type="button" class="quiet" disabled={here <= 0} onClick={() => to(Math.ceil(here) - 1)}>
        <Icon name="back" />
        <span class="unseen">One {unit} back</span>
      </button>
      {!still.value && (
        <button
          type="button"
          class="quiet"
          aria-pressed={playing}
          onClick={() => {
            looks.playing.value = !looks.playing.peek();
          }}
        >
          <Icon name={playing ? "pause" : "play"} />
          <span class="unseen">{playing ? `Stop ${what}` : `Play ${what}`}</span>
        </button>
      )}
      <button type="button" class="quiet" disabled={here >= last} onClick={() => to(Math.floor(here) + 1)}>
        <Icon name="next" />
        <span class="unseen">One {unit} on</span>
      </button>
      <input
        type="range"
        class="rule"
        aria-label={`How far: ${what}`}
        min="0"
        max={last}
        step={still.value ? 1 : 0.05}
        value={here}
        aria-valuetext={name(Math.floor(here))}
        onInput={(event) => to(event.currentTarget.valueAsNumber)}
        onKeyDown={(event) => {
          const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[event.key];
          if (by === undefined) return;
          event.preventDefault();
          to((by > 0 ? Math.floor(here) : Math.ceil(here)) + by);
        }}
      />
    </div>
  );
}
