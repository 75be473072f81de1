// The bench: one piece with its picture, its sizes, and the answers of every chapter, all in sight.

import { useSignal, useSignalEffect } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { stepBack, stepForward } from "../actions/changeSize";
import { dropChanges, openPiece } from "../actions/openPiece";
import { saveOnTop, savePiece, takeTheirs } from "../actions/savePiece";
import * as bench from "../state/bench";
import { large } from "../state/looks";
import { printing, wide } from "../state/screen";
import { Chapters } from "./Chapters";
import { day } from "./day";
import { Files } from "./Files";
import { Head, Mark } from "./Head";
import { Icon } from "./Icon";
import { Parts } from "./Parts";
import { Picture } from "./Picture";
import { Sizes } from "./Sizes";
import { Tabs } from "./Tabs";
import { TextEditor } from "./TextEditor";
import { Versions } from "./Versions";
import { Word } from "./Word";

export function Bench({ id }: { id: string }) {
  useEffect(() => {
    void openPiece(id);
    const keys = (event: KeyboardEvent) => {
      if (event.key.toLowerCase() !== "s" || !(event.ctrlKey || event.metaKey)) return;
      event.preventDefault();
      void savePiece();
    };
    addEventListener("keydown", keys);
    return () => removeEventListener("keydown", keys);
  }, [id]);
  useSignalEffect(() => {
    document.title = `${bench.pieceName.value || "Bench"} · Longgrain`;
  });
  if (bench.missing.value)
    return (
      <>
        <Head here="piece" />
        <main class="sheet narrow">
          <h1>Not on the bench</h1>
          <p>{bench.missing.value}</p>
          <p>
            <a href="/">Back to the shelf</a>
          </p>
        </main>
      </>
    );
  const reading = bench.wanted.value !== "" && (wide.value || bench.panel.value === "chapters");
  return (
    <div class={`bench${reading ? " reading" : ""}${large.value ? " large" : ""}`}>
      <BenchHead />
      <main>
        <Questions />
        <Always />
        <Panels />
        {wide.value && (
          <section class="work" aria-labelledby="work-title">
            <h2 id="work-title">Chapters</h2>
            <Chapters />
          </section>
        )}
      </main>
    </div>
  );
}

/** What stays in sight while the page is scrolled. Its height is told to the style sheet. */
function Always() {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = box.current;
    if (!element) return;
    const watcher = new ResizeObserver(() => {
      document.documentElement.style.setProperty("--stuck", `${element.offsetHeight}px`);
    });
    watcher.observe(element);
    return () => watcher.disconnect();
  }, []);
  return (
    <div ref={box} class="always">
      <VerdictLine />
      <section class="look" aria-label="The piece">
        <Picture />
      </section>
    </div>
  );
}

function BenchHead() {
  const files = useSignal(false);
  const versions = useSignal(false);
  const saved = bench.saved.value;
  return (
    <>
      <header class="head">
        <a class="home" href="/">
          <Icon name="back" />
          Shelf
        </a>
        <span class="wide-only">
          <Mark />
        </span>
        <div class="name">
          <h1>{bench.pieceName.value || " "}</h1>
          <SaveState />
        </div>
        <div class="row">
          <button type="button" disabled={!bench.dirty.value} onClick={() => void savePiece()}>
            <Icon name="save" />
            Save
          </button>
          <button type="button" class="quiet" disabled={!saved} onClick={() => (versions.value = true)}>
            <Icon name="past" />
            Versions
          </button>
          <button type="button" class="quiet" disabled={!saved} onClick={() => (files.value = true)}>
            <Icon name="paper" />
            Print and files
          </button>
        </div>
      </header>
      {files.value && <Files close={() => (files.value = false)} />}
      {versions.value && <Versions close={() => (versions.value = false)} />}
    </>
  );
}

function SaveState() {
  const saved = bench.saved.value;
  if (!saved) return null;
  return (
    <span class="save-state" role="status">
      {bench.dirty.value ? "Not saved yet" : `Saved, version ${saved.version}`}
    </span>
  );
}

/** What the person has to decide about before going on. */
function Questions() {
  const conflict = bench.conflict.value;
  const recovered = bench.recovered.value;
  if (conflict > 0)
    return (
      <div class="question" role="alert">
        <p>
          <strong>Version {conflict} was saved in between,</strong> in another tab or by somebody else. Yours
          is still here and not saved.
        </p>
        <div class="row">
          <button type="button" onClick={() => void saveOnTop()}>
            Save mine as the newest
          </button>
          <button type="button" class="quiet" onClick={takeTheirs}>
            Take version {conflict}, give up mine
          </button>
        </div>
      </div>
    );
  if (recovered !== null && bench.dirty.value)
    return (
      <div class="question" role="status">
        <p>What you changed on {day(recovered)} and did not save is back on the bench.</p>
        <div class="row">
          <button type="button" class="quiet" onClick={() => (bench.recovered.value = null)}>
            Go on with it
          </button>
          <button type="button" class="quiet" onClick={dropChanges}>
            Go back to the saved piece
          </button>
        </div>
      </div>
    );
  return null;
}

function VerdictLine() {
  const now = bench.latest.value;
  const shown = now?.verdict;
  const settled = useSignal("");
  useSignalEffect(() => {
    const verdict = bench.latest.value?.verdict;
    const timer = setTimeout(() => {
      settled.value = verdict ? `${verdict.word}. ${verdict.answer}` : "";
    }, 700);
    return () => clearTimeout(timer);
  });
  return (
    <div class="verdict" data-word={shown?.word ?? ""}>
      {shown ? (
        <>
          <Word word={shown.word} />
          <p>{shown.answer}</p>
        </>
      ) : (
        <p class="soft">{now ? firstProblem() : "Working the piece out …"}</p>
      )}
      <div class="unseen" role="status">
        {settled.value}
      </div>
    </div>
  );
}

function firstProblem(): string {
  const [first] = bench.problems.value;
  return first ? first.what : "There is no answer.";
}

const names = { sizes: "Sizes", parts: "Parts", text: "Text", chapters: "Chapters" } as const;

function Panels() {
  const panels: bench.Panel[] = wide.value
    ? ["sizes", "parts", "text"]
    : ["sizes", "chapters", "parts", "text"];
  const chosen = panels.includes(bench.panel.value) && !printing.value ? bench.panel.value : "sizes";
  return (
    <section class="panel" aria-label="Change the piece">
      <Tabs
        beside={chosen !== "chapters" ? <Steps /> : null}
        label="What to work on"
        tabs={panels.map((p) => ({ id: p, title: names[p] }))}
        chosen={chosen}
        choose={(p) => {
          bench.panel.value = p;
        }}
      >
        {chosen === "sizes" && <Sizes />}
        {chosen === "parts" && <Parts />}
        {chosen === "text" && <TextEditor />}
        {chosen === "chapters" && <Chapters />}
      </Tabs>
    </section>
  );
}

function Steps() {
  return (
    <div class="steps">
      <button type="button" class="quiet" disabled={bench.past.value.length === 0} onClick={stepBack}>
        <Icon name="undo" /> Step back
      </button>
      <button type="button" class="quiet" disabled={bench.future.value.length === 0} onClick={stepForward}>
        <Icon name="redo" /> Step forward
      </button>
    </div>
  );
}
