// Has the piece on the bench worked out. Allowed at any time; while the hand moves, small answers are
// asked for, one at a time, and the open chapter is fetched when it rests.

import { batch, effect } from "@preact/signals";
import { plan } from "../api/client";
import { NewestWins } from "../api/queue";
import type { PlanAnswer, PlanBody } from "../api/types";
import * as bench from "../state/bench";
import { whenBack } from "../state/connection";
import { dropDraft, keepDraft } from "../state/draft";
import { tellFailure } from "../state/message";

/** How long nothing must change for the hand to be at rest, ms. Judgement: shorter than it feels. */
const REST = 250;

/** How long after a change it is written to the browser's store, ms. */
const KEEP_AFTER = 200;

interface Asked {
  id: string;
  body: PlanBody & { sizes: Record<string, string> };
}

const line = new NewestWins<Asked, PlanAnswer>((asked) => plan(asked.body), arrived, failed);

/** Called when the hand came to rest and nothing is under way any more. */
const onRest = new Set<() => void>();

/** Whether the last answer was one at a glance. */
let glanced = false;

let restTimer: ReturnType<typeof setTimeout> | undefined;

/** Plans what is on the bench: at a glance while the hand moves, and in full, with the open chapter, when it rests. */
export function planBench(resting: boolean): void {
  const saved = bench.saved.peek();
  if (!saved) return;
  clearTimeout(restTimer);
  restTimer = undefined;
  const body: Asked["body"] = { text: bench.text.peek(), sizes: bench.typed.peek() };
  if (bench.bendCase.peek()) body.bend = bench.bendCase.peek();
  if (!resting) body.moving = true;
  if (resting && bench.wanted.peek()) body.chapter = bench.wanted.peek();
  else bench.chapterOld.value = bench.chapter.peek() !== null;
  line.submit({ id: saved.id, body });
}

/** Resolves when everything that was typed so far has been worked out, or cannot be. */
export function atRest(): Promise<void> {
  if (!line.busy && restTimer === undefined) return Promise.resolve();
  return new Promise((resolve) => onRest.add(resolve));
}

function arrived(answer: PlanAnswer, asked: Asked): void {
  if (asked.id !== bench.saved.peek()?.id) return;
  glanced = asked.body.moving === true;
  batch(() => {
    bench.latest.value = answer;
    if (answer.scene) bench.good.value = answer;
    if (answer.problems.length === 0) fold(answer, asked);
    if (answer.open) {
      bench.chapter.value = answer.open;
      bench.chapterOld.value = false;
    }
  });
  clearTimeout(restTimer);
  restTimer = setTimeout(rest, REST);
}

/** Takes the text with the sizes put in, unless the text was changed in the meantime. */
function fold(answer: PlanAnswer, asked: Asked): void {
  if (Object.keys(asked.body.sizes).length === 0 || bench.text.peek() !== asked.body.text) return;
  const newer = Object.entries(bench.typed.peek()).filter(
    ([name, value]) => asked.body.sizes[name] !== value,
  );
  bench.text.value = answer.text;
  bench.typed.value = Object.fromEntries(newer);
}

function rest(): void {
  restTimer = undefined;
  if (line.busy) return;
  const open = bench.wanted.peek();
  const stale = open !== "" && (bench.chapterOld.peek() || bench.chapter.peek()?.id !== open);
  if ((stale || glanced) && bench.latest.peek()?.problems.length === 0) {
    planBench(true);
    return;
  }
  remember(bench.text.peek());
  for (const callBack of [...onRest]) callBack();
  onRest.clear();
}

let remembered = "";

/** Puts the text before this one on the pile to step back to. */
function remember(now: string): void {
  if (remembered !== "" && remembered !== now) {
    bench.past.value = [...bench.past.peek(), remembered];
    bench.future.value = [];
  }
  remembered = now;
}

/** Says which text was last put on the bench other than by a change: opened, or stepped to. */
export function rememberFrom(now: string): void {
  remembered = now;
}

function failed(cause: unknown, asked: Asked): void {
  if (asked.id !== bench.saved.peek()?.id) return;
  tellFailure("The piece was not worked out", cause);
  for (const callBack of [...onRest]) callBack();
  onRest.clear();
}

whenBack(() => planBench(true));

/** Keeps what is typed in the browser, from now on. Call it once. */
export function keepTyping(): void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const keep = () => {
    clearTimeout(timer);
    const saved = bench.saved.peek();
    if (!saved) return;
    if (!bench.dirty.peek()) dropDraft(saved.id);
    else
      keepDraft(saved.id, {
        text: bench.text.peek(),
        typed: bench.typed.peek(),
        base: saved.version,
        at: Date.now(),
      });
  };
  effect(() => {
    void [bench.text.value, bench.typed.value, bench.saved.value];
    clearTimeout(timer);
    timer = setTimeout(keep, KEEP_AFTER);
  });
  addEventListener("pagehide", keep);
}
