// The chapters in the order of the work, each with its answer. One is open at a time.

import { useSignalEffect } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { chapterAddress } from "../actions/files";
import { toggleChapter } from "../actions/openChapter";
import type { ChapterInfo } from "../api/types";
import * as bench from "../state/bench";
import { joint } from "../state/looks";
import { jointsAddress } from "../state/route";
import { work } from "../state/work";
import { BoardTools } from "./BoardTools";
import { Forces } from "./Forces";
import { Icon } from "./Icon";
import { Mends } from "./Mends";
import { Misfits } from "./Misfits";
import { markPicks, offerPicks, pressPick } from "./picks";
import { Word } from "./Word";
import { Work } from "./Work";

export function Chapters() {
  const newest = bench.latest.value?.chapters ?? [];
  const chapters = newest.length > 0 ? newest : (bench.good.value?.chapters ?? []);
  const old = newest.length === 0 && chapters.length > 0;
  return (
    <>
      {old && <p class="old">These are the answers for the last piece that could be made.</p>}
      <Misfits />
      <ol class="chapters">
        {chapters.map((chapter) => (
          <Chapter key={chapter.id} chapter={chapter} />
        ))}
      </ol>
    </>
  );
}

function Chapter({ chapter }: { chapter: ChapterInfo }) {
  const open = bench.wanted.value === chapter.id;
  const item = useRef<HTMLLIElement>(null);
  const { id } = chapter;
  const written = bench.chapter.value?.id === id;
  // Once when it opens and once when its text is there: before that there may be no room to scroll.
  useEffect(() => {
    if (open) item.current?.scrollIntoView({ block: "start" });
  }, [open, written]);
  return (
    <li ref={item} class={open ? "chapter open" : "chapter"}>
      <div class="chapter-head">
        <h3>
          <button
            type="button"
            aria-expanded={open}
            aria-controls={open ? `chapter-${id}` : undefined}
            onClick={() => toggleChapter(id)}
          >
            <Icon name={open ? "open" : "shut"} />
            {chapter.title}
          </button>
        </h3>
        <Word word={chapter.word} />
        <p>{chapter.answer}</p>
      </div>
      {open && id === "holds" && (chapter.word === "does not hold" || chapter.word === "tight") && <Mends />}
      {open && id === "holds" && <Forces />}
      {open && id === "order" && <Work />}
      {open && <ChapterText id={id} />}
    </li>
  );
}

function ChapterText({ id }: { id: string }) {
  const box = useRef<HTMLDivElement>(null);
  const text = bench.chapter.value;
  // Once something was done, the order of work is told as it is planned from now on.
  const again = id === "order" && work.value?.again && !bench.dirty.value ? work.value.html : null;
  const html = again ?? (text?.id === id ? text.html : null);
  useEffect(() => {
    const element = box.current;
    if (!element) return;
    prepare(element);
    const scene = bench.good.peek()?.scene;
    if (scene) offerPicks(element, id, scene);
    markPicks(element, bench.picked.peek(), joint.peek());
    const keys = (event: KeyboardEvent) => {
      const drawn = event.target instanceof SVGElement && (event.key === "Enter" || event.key === " ");
      if (drawn && pressPick(event)) event.preventDefault();
    };
    element.addEventListener("click", pressPick);
    element.addEventListener("keydown", keys);
    return () => {
      element.removeEventListener("click", pressPick);
      element.removeEventListener("keydown", keys);
    };
  }, [html, id]);
  useSignalEffect(() => {
    const [part, chosen] = [bench.picked.value, joint.value];
    if (box.current) markPicks(box.current, part, chosen);
  });
  return (
    <div id={`chapter-${id}`} class="chapter-text" aria-busy={html === null || bench.chapterOld.value}>
      {html === null ? (
        <p class="soft">Writing the chapter …</p>
      ) : (
        <>
          {bench.chapterOld.value && bench.problems.value.length > 0 && (
            <p class="old">This was written for the last piece that could be made.</p>
          )}
          {/* The server writes this text: it escapes every word of the piece, and its policy forbids scripts. */}
          <div ref={box} class="document" dangerouslySetInnerHTML={{ __html: html }} />
          {id === "joints" && bench.saved.value && (
            <p class="onward">
              <a href={jointsAddress(bench.saved.value.id)}>
                Compare the joints of the saved piece, with your own tests laid over
              </a>
            </p>
          )}
          {(id === "timber" || id === "boards") && <BoardTools chapter={id} />}
          <PrintChapter id={id} />
        </>
      )}
    </div>
  );
}

/** Prints one chapter of the workbook, as saved. */
function PrintChapter({ id }: { id: string }) {
  const address = chapterAddress(id);
  if (!address) return null;
  return (
    <p class="print-chapter">
      <a class="button quiet" href={address} download="">
        Print this chapter
      </a>
      {bench.dirty.value && <span class="soft"> as saved, without what you changed since</span>}
    </p>
  );
}

/** How many columns fit a phone side by side. */
const COLUMNS_OF_A_PHONE = 4;

/**
 * A wide table becomes a list of rows on a phone, each with its verdict beside its name: every cell is told its
 * heading for that, and the roles of a table, which a browser may forget when it is laid out in another way.
 */
function labelCells(table: HTMLTableElement): void {
  const heads = [...(table.tHead?.rows[0]?.cells ?? [])].map((h) => h.textContent ?? "");
  if (heads.length <= COLUMNS_OF_A_PHONE) return;
  table.classList.add("rows");
  table.setAttribute("role", "table");
  table.caption?.setAttribute("role", "caption");
  for (const row of table.rows) {
    row.setAttribute("role", "row");
    [...row.cells].forEach((cell, i) => {
      const head = cell.tagName === "TH" && cell.closest("thead");
      cell.setAttribute("role", head ? "columnheader" : "cell");
      if (!head && heads[i] && row.cells.length === heads.length) cell.dataset.head = heads[i];
    });
  }
}

/** Lets the keyboard reach tables and drawings that are wider than the page. */
function prepare(document: HTMLElement): void {
  for (const wide of document.querySelectorAll<HTMLElement>(".table-box, .picture")) {
    wide.tabIndex = 0;
    wide.setAttribute("role", "group");
    const title =
      wide.querySelector("caption")?.textContent ??
      wide.parentElement?.querySelector("figcaption")?.textContent;
    wide.setAttribute("aria-label", title || "Drawing");
  }
  for (const table of document.querySelectorAll<HTMLTableElement>("table")) labelCells(table);
}
