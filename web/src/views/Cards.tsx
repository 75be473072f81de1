// The page of the bench cards: one card at a time, with everything to press at the foot of the screen, where a thumb in a glove is.

import { useSignal, useSignalEffect } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { turn } from "../actions/cards";
import {
  answer,
  cards,
  doing,
  doneCount,
  fromBefore,
  hindered,
  nextOpen,
  pieceOf,
  place,
  shelf,
  waiting,
} from "../state/cards";
import { reachable } from "../state/connection";
import { dismiss, message } from "../state/message";
import { CardBar } from "./CardsBar";
import { CardFace } from "./CardsFace";
import { Join } from "./CardsJoin";
import { CardsMenu } from "./CardsMenu";
import { Timers } from "./CardsTimers";

export function CardsPage() {
  const piece = pieceOf(location.pathname);
  const list = useSignal(false);
  useSignalEffect(() => {
    const card = cards.value[place.value];
    document.title = card ? `${card.number}. ${card.title} · Longgrain` : "Bench cards · Longgrain";
  });
  if (hindered.value?.kind === "code") return <Join words={hindered.value.words} />;
  if (hindered.value) return <Told words={hindered.value.words} />;
  if (!piece) return <Pieces />;
  if (!answer.value) return <p class="card-wait">Laying the cards out …</p>;
  if (cards.value.length === 0)
    return (
      <Told words="there is no order of work for this piece: its shop has no hours, or nothing is to be done" />
    );
  return (
    <>
      <Top open={list.value} press={() => (list.value = !list.value)} />
      {list.value ? <CardsMenu close={() => (list.value = false)} /> : <Deck />}
    </>
  );
}

/** How far a finger goes sideways for the next card, px, and how much straighter than down. */
const SWIPE = 60;
const STRAIGHT = 2;

function Deck() {
  const card = cards.value[place.value];
  const heading = useRef<HTMLHeadingElement>(null);
  const task = card?.tasks[0]?.id;
  const first = useRef(true);
  const start = useRef<{ x: number; y: number } | null>(null);
  useEffect(() => {
    scrollTo(0, 0);
    if (!first.current) heading.current?.focus({ preventScroll: true });
    first.current = false;
  }, [task]);
  useEffect(() => {
    const key = (e: KeyboardEvent) => {
      const typing = (e.target as Element).closest?.("input[type=text], textarea, select, .large");
      if (typing || e.ctrlKey || e.altKey || e.metaKey || e.shiftKey) return;
      if (e.key === "ArrowRight") turn(1);
      else if (e.key === "ArrowLeft") turn(-1);
    };
    addEventListener("keydown", key);
    return () => removeEventListener("keydown", key);
  }, []);
  if (!card) return null;
  const next = cards.value[nextOpen(place.value)];
  return (
    <>
      <main
        class="card"
        data-state={doing(card)}
        onTouchStart={(e) => {
          const touch = e.touches[0];
          const aside = (e.target as Element).closest(".figure-room.large, input, textarea");
          start.current =
            touch && e.touches.length === 1 && !aside ? { x: touch.clientX, y: touch.clientY } : null;
        }}
        onTouchEnd={(e) => {
          const touch = e.changedTouches[0];
          const from = start.current;
          start.current = null;
          if (!touch || !from) return;
          const [dx, dy] = [touch.clientX - from.x, touch.clientY - from.y];
          if (Math.abs(dx) >= SWIPE && Math.abs(dx) > STRAIGHT * Math.abs(dy)) turn(dx < 0 ? 1 : -1);
        }}
      >
        <CardFace card={card} heading={heading} />
        <p class="card-next">
          {next && next !== card ? (
            <>
              <strong>Next:</strong> {next.number}. {next.title}, {next.day}, {next.at}
            </>
          ) : next ? (
            "This is the last card that is open."
          ) : (
            "Everything is done."
          )}
        </p>
      </main>
      <CardBar card={card} />
    </>
  );
}

function Top({ open, press }: { open: boolean; press: () => void }) {
  const deck = answer.value?.deck;
  const all = cards.value.length;
  return (
    <header class="card-top">
      <div class="card-head">
        <button type="button" class="quiet" aria-expanded={open} onClick={press}>
          {open ? "Back to the card" : "All cards"}
        </button>
        <p>
          <strong>{deck?.piece}</strong>
          <span class="soft">
            {" "}
            {doneCount.value} of {all} done
          </span>
        </p>
      </div>
      <progress aria-label="Cards that are done" max={all} value={doneCount.value} />
      <Notices />
      <Timers />
    </header>
  );
}

function Notices() {
  const m = message.value;
  const count = waiting.value.length;
  return (
    <section class="card-notices" aria-label="Notices">
      <div role="status">
        {!reachable.value && (
          <p class="card-notice">
            Longgrain does not answer. {fromBefore.value ? "These cards are those of the last visit. " : ""}
            Work on: what you tick is kept here and sent when it answers again.
          </p>
        )}
        {count > 0 && (
          <p class="card-notice">
            {count} {count === 1 ? "entry waits" : "entries wait"} to be sent; nothing is lost.
          </p>
        )}
        {m && (
          <div class={m.bad ? "card-notice bad" : "card-notice"}>
            <p>{m.text}</p>
            <p class="row">
              {m.action && (
                <button
                  type="button"
                  onClick={() => {
                    dismiss();
                    m.action?.run();
                  }}
                >
                  {m.action.title}
                </button>
              )}
              <button type="button" class="quiet" onClick={dismiss}>
                Close
              </button>
            </p>
          </div>
        )}
      </div>
    </section>
  );
}

function Pieces() {
  const pieces = shelf.value?.pieces;
  return (
    <main class="card">
      <h1>Bench cards</h1>
      {!pieces ? (
        <p class="card-wait">Looking for the pieces …</p>
      ) : pieces.length === 0 ? (
        <p>There is no piece on the shelf yet.</p>
      ) : (
        <ul class="card-list">
          {pieces.map((p) => (
            <li key={p.id}>
              <a class="button quiet" href={`/cards/${encodeURIComponent(p.id)}`}>
                {p.name}
              </a>
            </li>
          ))}
        </ul>
      )}
    </main>
  );
}

function Told({ words }: { words: string }) {
  return (
    <main class="card">
      <h1>The cards cannot be shown</h1>
      <p>{words}.</p>
      <p>
        <a class="button quiet" href="/cards">
          Other pieces
        </a>
      </p>
    </main>
  );
}
