// Compares joints: of a saved piece at a connection, or of free sizes. Allowed at any time; the newest question wins.

import { batch } from "@preact/signals";
import { compareJoints, openPiece } from "../api/client";
import { NewestWins } from "../api/queue";
import type { JointsAnswer, JointsBody } from "../api/types";
import * as joints from "../state/joints";
import { tellFailure } from "../state/message";

const line = new NewestWins<JointsBody, JointsAnswer>(compareJoints, arrived, (cause) =>
  tellFailure("The joints were not compared", cause),
);

let text = "";
let timer: ReturnType<typeof setTimeout> | undefined;

/** How long nothing must be typed before it is worked out, ms. */
const PAUSE = 250;

/** Lays a saved piece on the joint bench, or nothing for free sizes. */
export async function layOut(piece: string): Promise<void> {
  batch(() => {
    joints.latest.value = null;
    joints.good.value = null;
    joints.connection.value = "";
    joints.kind.value = "";
  });
  text = "";
  if (piece) {
    try {
      text = (await openPiece(piece)).text;
    } catch (cause) {
      tellFailure("The piece was not found", cause);
      return;
    }
  }
  compare();
}

export function chooseConnection(name: string): void {
  joints.connection.value = name;
  compare();
}

export function typeFree(name: keyof joints.Free, value: string): void {
  joints.free.value = { ...joints.free.peek(), [name]: value };
  clearTimeout(timer);
  timer = setTimeout(compare, PAUSE);
}

function compare(): void {
  if (text) {
    line.submit({ text, ...(joints.connection.peek() && { connection: joints.connection.peek() }) });
    return;
  }
  const { bend, sideways, ...sizes } = joints.free.peek();
  const newtonMetres = (typed: string) => Math.max(0, Number.parseFloat(typed.replace(",", ".")) || 0);
  line.submit({ ...sizes, bend: newtonMetres(bend), sideways: newtonMetres(sideways) });
}

function arrived(answer: JointsAnswer): void {
  batch(() => {
    joints.latest.value = answer;
    if (answer.problems.length === 0) joints.good.value = answer;
    if (!joints.kinds.peek().includes(joints.kind.peek())) joints.kind.value = "";
  });
}
