// The shelf: every piece with its picture and verdict, ways to begin a new one, and what was put aside.

import { useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { copyPiece, lookAtShelf, putAside, startEmpty, startPiece, takeBack, takeIn } from "../actions/shelf";
import { workbookAddress } from "../api/client";
import type { DeletedPiece, Pattern, ShelfPiece } from "../api/types";
import { whenBack } from "../state/connection";
import { jointsAddress, pieceAddress } from "../state/route";
import { patterns, shelf } from "../state/shelf";
import { day } from "./day";
import { Head } from "./Head";
import { Word } from "./Word";

export function Shelf() {
  useEffect(() => {
    document.title = "Shelf · Longgrain";
    void lookAtShelf();
    return whenBack(() => void lookAtShelf());
  }, []);
  const now = shelf.value;
  const sought = useSignal("");
  const words = sought.value.toLowerCase().split(/\s+/).filter(Boolean);
  const found = (now?.pieces ?? []).filter((piece) => {
    const told = `${piece.name} ${piece.word} ${piece.answer}`.toLowerCase();
    return words.every((word) => told.includes(word));
  });
  return (
    <>
      <Head here="shelf" />
      <main class="shelf-page">
        <h1>Shelf</h1>
        {now === null && <p class="soft">Fetching the pieces …</p>}
        {now?.pieces.length === 0 && (
          <p class="soft">The shelf is empty. Start a piece from a pattern, or take one in from a file.</p>
        )}
        {now !== null && now.pieces.length > 1 && (
          <div class="field search">
            <label for="search">Search the shelf</label>
            <input
              id="search"
              type="search"
              value={sought.value}
              aria-describedby="search-found"
              onInput={(event) => {
                sought.value = event.currentTarget.value;
              }}
            />
            <p id="search-found" class="soft small" role="status">
              {words.length > 0
                ? `${found.length} of ${now.pieces.length} pieces`
                : "by name, or by what is said of it, such as: tight"}
            </p>
          </div>
        )}
        {found.length > 0 && (
          <ul class="pieces">
            {found.map((piece) => (
              <Piece key={piece.id} piece={piece} />
            ))}
          </ul>
        )}
        <Start />
        {now !== null && now.deleted.length > 0 && <Aside deleted={now.deleted} />}
      </main>
    </>
  );
}

function Piece({ piece }: { piece: ShelfPiece }) {
  return (
    <li class="piece">
      <div class="stand">
        <Picture address={piece.picture} />
      </div>
      <h2>
        <a href={pieceAddress(piece.id)}>{piece.name}</a>
      </h2>
      <p class="verdict-short">
        <Word word={piece.word} /> {piece.answer}
      </p>
      <p class="next">{nextStep(piece)}</p>
      <p class="soft small">
        Version {piece.version}, {day(piece.saved)}
      </p>
      <p class="row">
        <button type="button" class="quiet" onClick={() => void copyPiece(piece.id)}>
          Copy<span class="unseen"> {piece.name}</span>
        </button>
        <button type="button" class="quiet" onClick={() => void putAside(piece.id, piece.name)}>
          Put aside<span class="unseen"> {piece.name}</span>
        </button>
      </p>
    </li>
  );
}

/** What to do next with a piece, by what is said of it. */
function nextStep(piece: ShelfPiece) {
  const bench = pieceAddress(piece.id);
  switch (piece.word) {
    case "cannot be planned":
      return (
        <>
          Next: <a href={bench}>mend what is wrong in its file</a>
        </>
      );
    case "does not hold":
    case "tight":
      return (
        <>
          Next: <a href={bench}>see which change makes it hold</a>, or{" "}
          <a href={jointsAddress(piece.id)}>compare its joints</a>
        </>
      );
    default:
      return (
        <>
          Next: <a href={workbookAddress(piece.id, "a4", piece.version)}>print its workbook</a>
        </>
      );
  }
}

/** The picture of a piece; a piece that cannot be planned has none. */
function Picture({ address }: { address: string }) {
  const failed = useSignal("");
  if (failed.value === address) return <span class="soft">No picture yet</span>;
  return (
    <img
      src={address}
      alt=""
      loading="lazy"
      onError={() => {
        failed.value = address;
      }}
    />
  );
}

function Start() {
  const chosen = useSignal<Pattern | null>(null);
  const file = useRef<HTMLInputElement>(null);
  return (
    <section class="sheet start" aria-labelledby="start-title">
      <h2 id="start-title">Start a piece</h2>
      <ul class="patterns">
        {(patterns.value ?? []).map((pattern) => (
          <li key={pattern.name}>
            {chosen.value === pattern ? (
              <NameIt pattern={pattern} back={() => (chosen.value = null)} />
            ) : (
              <button type="button" class="pattern" onClick={() => (chosen.value = pattern)}>
                <strong>{pattern.title}</strong>
                <span class="soft">{pattern.help}</span>
              </button>
            )}
          </li>
        ))}
      </ul>
      <div class="row file">
        <button type="button" class="quiet" onClick={() => void startEmpty()}>
          Start an empty piece
        </button>
        <button type="button" class="quiet" onClick={() => file.current?.click()}>
          Take one in from a file
        </button>
        <input
          ref={file}
          type="file"
          class="unseen"
          tabIndex={-1}
          aria-label="Piece file"
          accept=".yaml,.yml,.txt"
          onChange={(event) => {
            const picked = event.currentTarget.files?.[0];
            if (picked) void takeIn(picked);
            event.currentTarget.value = "";
          }}
        />
      </div>
    </section>
  );
}

/** Asks for what a new piece needs before it can stand on the bench. */
function NameIt({ pattern, back }: { pattern: Pattern; back: () => void }) {
  const name = useSignal(pattern.title);
  const units = useSignal<"mm" | "in">("mm");
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => input.current?.select(), []);
  return (
    <form
      class="name-it"
      onSubmit={(event) => {
        event.preventDefault();
        void startPiece(name.value.trim() || pattern.title, pattern.name, units.value);
      }}
    >
      <label>
        Name of the piece
        <input
          ref={input}
          type="text"
          value={name.value}
          maxLength={100}
          onInput={(event) => {
            name.value = event.currentTarget.value;
          }}
        />
      </label>
      <fieldset class="choices">
        <legend>Lengths are shown in</legend>
        {(["mm", "in"] as const).map((unit) => (
          <label key={unit}>
            <input
              type="radio"
              name="units"
              checked={units.value === unit}
              onChange={() => (units.value = unit)}
            />
            {unit === "mm" ? "millimetres" : "inches"}
          </label>
        ))}
      </fieldset>
      <div class="row">
        <button type="submit">Put it on the bench</button>
        <button type="button" class="quiet" onClick={back}>
          Not now
        </button>
      </div>
    </form>
  );
}

function Aside({ deleted }: { deleted: DeletedPiece[] }) {
  return (
    <details class="aside">
      <summary>
        <h2>Put aside</h2>
        <span class="soft">
          {deleted.length} {deleted.length === 1 ? "piece" : "pieces"}
        </span>
      </summary>
      <ul>
        {deleted.map((piece) => (
          <li key={piece.id}>
            <span>
              {piece.name} <span class="soft small">{day(piece.deleted)}</span>
            </span>
            <button type="button" class="quiet" onClick={() => void takeBack(piece.id, piece.name)}>
              Take back<span class="unseen"> {piece.name}</span>
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}
