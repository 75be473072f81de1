// What stands on a card.

import { useSignal } from "@preact/signals";
import type { Ref } from "preact";
import type { Card } from "../api/cards";
import { answer, doing, notesOf, steps, tickStep } from "../state/cards";
import { spokenMinutes } from "../state/spoken";
import { TimerStarts } from "./CardsTimers";

const states = { open: "", started: "Begun", running: "Under way", done: "Done" };

export function CardFace({ card, heading }: { card: Card; heading: Ref<HTMLHeadingElement> }) {
  const state = doing(card);
  const facts = [
    states[state],
    card.minutes > 0 ? `about ${spokenMinutes(card.minutes)}${card.people > 1 ? " each" : ""}` : "",
    card.people > 1 ? `${card.people} people` : "",
    card.critical ? "the end waits for this" : "",
  ].filter(Boolean);
  const notes = notesOf(card);
  return (
    <>
      <p class="card-when">
        {card.day}, {card.at}
        {card.again.map((when) => (
          <span key={when}> · goes on {when}</span>
        ))}
      </p>
      <h1 ref={heading} tabIndex={-1}>
        <span class="card-number">{card.number}</span> {card.title}
      </h1>
      <p class="card-facts">{facts.join(" · ")}</p>
      {card.parts.length > 0 && (
        <ul class="card-parts" aria-label="Parts">
          {card.parts.map((p) => (
            <li key={p.mark}>
              <strong>{p.mark}</strong> {p.name}
            </li>
          ))}
        </ul>
      )}
      {card.after.length > 0 && (
        <ul class="card-after" aria-label="Only after">
          {card.after.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      )}
      {card.cautions.length > 0 && (
        <section class="card-cautions" aria-label="Cautions">
          {card.cautions.map((c) => (
            <div key={`${c.title}${c.text}`}>
              {c.title && <strong>{c.title}</strong>}
              {c.text && <p>{c.text}</p>}
              {c.stop && <p class="stop">{c.stop}</p>}
            </div>
          ))}
        </section>
      )}
      {card.figures.map((id) => (
        <Figure key={id} id={id} />
      ))}
      {card.settings.length > 0 && (
        <>
          <h2>Set and have ready</h2>
          <dl class="card-settings">
            {card.settings.map((s) => (
              <div key={s.name + s.value}>
                <dt>{s.name}</dt>
                <dd>{s.value}</dd>
              </div>
            ))}
          </dl>
        </>
      )}
      <Steps card={card} />
      <TimerStarts card={card} />
      {card.notes.length > 0 && (
        <>
          <h2>Mind</h2>
          <ul class="card-mind">
            {card.notes.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </>
      )}
      {card.then && (
        <p>
          <strong>Then:</strong> {card.then}
        </p>
      )}
      {notes.length > 0 && (
        <>
          <h2>Noted</h2>
          <ul class="card-mind">
            {notes.map((text) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}

function Steps({ card }: { card: Card }) {
  const task = card.tasks[0]?.id ?? "";
  const ticked = steps.value[task] ?? [];
  const piece = answer.value?.id ?? "";
  if (card.steps.length === 0) return null;
  return (
    <>
      <h2>Step by step</h2>
      <ul class="card-steps">
        {card.steps.map((text, k) => (
          <li key={text}>
            <label>
              <input type="checkbox" checked={ticked.includes(k)} onChange={() => tickStep(piece, task, k)} />
              <span>{text}</span>
            </label>
          </li>
        ))}
      </ul>
    </>
  );
}

/** A drawing. Larger, it is moved sideways by finger or arrow keys. */
function Figure({ id }: { id: string }) {
  const large = useSignal(false);
  const figure = answer.value?.deck.figures.find((f) => f.id === id);
  if (!figure) return null;
  return (
    <figure class="card-figure">
      <section
        class={large.value ? "figure-room large" : "figure-room"}
        aria-label={figure.caption}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a large drawing is moved by the arrow keys
        tabIndex={0}
        dangerouslySetInnerHTML={{ __html: figure.svg }}
      />
      <figcaption>
        <span>{figure.caption}</span>
        <button
          type="button"
          class="quiet"
          aria-pressed={large.value}
          onClick={() => {
            large.value = !large.value;
          }}
        >
          Larger
        </button>
      </figcaption>
    </figure>
  );
}
