// Makes the names of parts and joints in a chapter pressable, in its words and in its drawings, and marks those that
// are chosen. The chapter is text from the server; only words that name a part or a joint of the piece are touched.

import type { Scene, ScenePart } from "../api/types";
import { pickJoint, pickPart } from "../state/looks";

/** Chapters in which a short name such as A1 may be that of a board: there only a strip or stave names its part. */
const BOARDS = new Set(["boards", "cost", "timber"]);

/** Finds the names in a chapter and lets them be pressed. */
export function offerPicks(box: HTMLElement, chapter: string, scene: Scene): void {
  const parts = new Map(scene.parts.map((p) => [p.id, p]));
  const joints = new Set(scene.joints.map((j) => j.name));
  const bare = !BOARDS.has(chapter) || chapter === "timber";
  for (const node of [...textNodes(box)]) {
    const element = node.parentElement;
    if (!element || element.closest("button, title, desc, style")) continue;
    const words = node.data.trim();
    if (joints.has(words)) {
      offer(element, node, words, { joint: words });
    } else if (element instanceof SVGElement) {
      const id = /^([A-Z]+\d+)\b/.exec(words)?.[1] ?? "";
      const part = parts.get(id);
      if (part && (bare ? named(words, part) : piece(words))) offer(element, node, words, { part: id });
    } else if (element.closest("td, th, li, caption, figcaption, h3, h4, p")) {
      splitNames(node, (id, after) => parts.has(id) && (bare || piece(`${id}${after}`)));
    }
  }
}

/** In a drawing: the mark alone, or the mark before the name. */
const named = (words: string, part: ScenePart) => words === part.id || words.includes(part.name);
const piece = (words: string) => /^[A-Z]+\d+ (strip|stave)\b/.test(words);

function* textNodes(box: HTMLElement): Generator<Text> {
  const walker = document.createTreeWalker(box, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) yield node as Text;
}

/** Makes one element, or one stretch of text, pressable as a whole. */
function offer(element: Element, node: Text, words: string, what: { part?: string; joint?: string }): void {
  let target: HTMLElement | SVGElement;
  if (element instanceof SVGElement) {
    target = element;
    target.setAttribute("role", "button");
    target.setAttribute("tabindex", "0");
    // What can be pressed inside of it makes a picture a group; its title still names it.
    target.closest("svg")?.setAttribute("role", "group");
  } else {
    target = pressable(words);
    node.replaceWith(target);
  }
  if (what.part) target.dataset.part = what.part;
  if (what.joint) target.dataset.joint = what.joint;
}

function pressable(words: string): HTMLButtonElement {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "pick";
  button.textContent = words;
  return button;
}

/** Splits a text at the names of parts. */
function splitNames(node: Text, isPart: (id: string, after: string) => boolean): void {
  const text = node.data;
  const found = [...text.matchAll(/\b[A-Z]+\d+\b/g)].filter((m) =>
    isPart(m[0], text.slice(m.index + m[0].length)),
  );
  if (found.length === 0) return;
  const out = document.createDocumentFragment();
  let at = 0;
  for (const m of found) {
    out.append(text.slice(at, m.index));
    const button = pressable(m[0]);
    button.dataset.part = m[0];
    out.append(button);
    at = m.index + m[0].length;
  }
  out.append(text.slice(at));
  node.replaceWith(out);
}

/** Chooses what was pressed; false when it was nothing of this. */
export function pressPick(event: Event): boolean {
  const target = (event.target as Element | null)?.closest<HTMLElement | SVGElement>(
    "[data-part], [data-joint]",
  );
  if (!target) return false;
  if (target.dataset.joint) pickJoint(target.dataset.joint);
  else pickPart(target.dataset.part ?? "");
  return true;
}

/** Marks every name of what is chosen. */
export function markPicks(box: HTMLElement, part: string, joint: string): void {
  for (const e of box.querySelectorAll<HTMLElement | SVGElement>("[data-part], [data-joint]")) {
    const chosen = e.dataset.joint ? e.dataset.joint === joint : e.dataset.part === part;
    e.setAttribute("aria-pressed", String(chosen));
  }
}
