// Asks what the boards of the piece on the bench come to, with a change of the shop that is not saved; saves the
// defects of a board on hand; puts what stays over on the rack. Allowed while the piece can be planned.

import { signal } from "@preact/signals";
import {
  boards as ask,
  Conflict,
  openShop,
  saveDefects as sendDefects,
  putOnRack as sendRack,
} from "../api/client";
import type { BoardsAnswer, RackDefect, WhatIf } from "../api/types";
import * as bench from "../state/bench";
import { tell, tellFailure } from "../state/message";
import { planBench } from "./plan";

/** The newest answer, for the piece as it was when it was asked for. */
export const boards = signal<BoardsAnswer | null>(null);

/** Whether an answer is under way. */
export const asking = signal(false);

let asked = 0;

/** Asks for the boards as they are, or with a change. The newest question wins. */
export async function askBoards(change?: WhatIf): Promise<void> {
  const mine = ++asked;
  asking.value = true;
  try {
    const body = { text: bench.text.peek(), sizes: bench.typed.peek() };
    const answer = await ask(change ? { ...body, if: change } : body);
    if (mine === asked) boards.value = answer;
  } catch (cause) {
    if (mine === asked) tellFailure("The boards were not worked out", cause);
  } finally {
    if (mine === asked) asking.value = false;
  }
}

/** Saves the defects of a board on hand into the shop and plans anew. */
export async function saveDefects(board: string, defects: RackDefect[]): Promise<boolean> {
  return change("The defects were not saved", async (base) => {
    await sendDefects({ board, defects, base });
    tell({ text: `The defects of ${board} are saved in the shop. Every piece is planned for them.` });
  });
}

/** Takes the boards of this piece off the rack and puts what stays over on it. */
export async function putOnRack(): Promise<boolean> {
  return change("The rack was not changed", async (base) => {
    await sendRack({ text: bench.text.peek(), sizes: bench.typed.peek(), base });
    tell({ text: "The boards of this piece are off the rack, and what stays over is on it." });
  });
}

/** Changes the shop as it is now saved, then plans for it. */
async function change(failure: string, save: (base: number) => Promise<void>): Promise<boolean> {
  try {
    await save((await openShop()).version);
  } catch (cause) {
    if (cause instanceof Conflict)
      tell({ text: `${failure}: the shop was saved in between. Try again.`, bad: true });
    else tellFailure(failure, cause);
    return false;
  }
  planBench(true);
  await askBoards();
  return true;
}
