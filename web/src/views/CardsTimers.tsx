// Timers: what can be started on a card, what runs, and what rings.

import type { Card } from "../api/cards";
import { silent, wake } from "../state/alarm";
import { answer } from "../state/cards";
import { spokenMinutes, spokenRest } from "../state/spoken";
import { clock, ringing, running, startTimer, stopTimer } from "../state/timers";

export function TimerStarts({ card }: { card: Card }) {
  if (card.timers.length === 0) return null;
  const task = card.tasks[0]?.id ?? "";
  return (
    <>
      <h2>Times to keep</h2>
      <ul class="card-timers">
        {card.timers.map((t) => {
          const id = `${answer.value?.id}/${task}/${t.id}`;
          const runs = running.value.find((r) => r.id === id);
          return (
            <li key={t.id}>
              <span>
                <strong>{t.name}</strong>
                {t.note && <span class="soft"> {t.note}</span>}
              </span>
              <button
                type="button"
                class={runs ? "quiet" : ""}
                aria-label={`${runs ? "Anew" : "Start"} ${spokenMinutes(t.minutes)}: ${t.name}`}
                onClick={() => startTimer({ id, name: t.name, ring: t.ring, task: card.title }, t.minutes)}
              >
                {runs ? "Anew" : "Start"} {spokenMinutes(t.minutes)}
              </button>
            </li>
          );
        })}
      </ul>
      <p class="soft">Keep this page in sight: a phone that sleeps rings when it wakes.</p>
    </>
  );
}

export function Timers() {
  const now = clock.value;
  const over = ringing.value;
  const runs = running.value.filter((t) => !over.includes(t)).sort((a, b) => a.ends - b.ends);
  return (
    <>
      <div role="alert">
        {over.map((t) => (
          <div key={t.id} class="card-alarm">
            <p>
              <strong>{t.ring}</strong>
              <span>
                {t.name}: {t.task}
              </span>
            </p>
            <button type="button" onClick={() => stopTimer(t.id)}>
              Quiet
            </button>
          </div>
        ))}
        {over.length > 0 && silent.value && (
          <button type="button" class="quiet" onClick={wake}>
            Let it sound
          </button>
        )}
      </div>
      {runs.length > 0 && (
        <ul class="card-running" aria-label="Timers that run">
          {runs.map((t) => (
            <li key={t.id}>
              <span role="timer">
                <strong>{spokenRest(t.ends - now)}</strong> {t.name}
              </span>
              <button
                type="button"
                class="quiet"
                aria-label={`Stop: ${t.name}`}
                onClick={() => stopTimer(t.id)}
              >
                Stop
              </button>
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
