// What is done at the shelf: look, start a piece, take one in from a file, copy, put aside, take back.
// All are always allowed.

import * as api from "../api/client";
import { Unreachable } from "../api/client";
import { lost } from "../state/connection";
import { tell, tellFailure } from "../state/message";
import { goTo, pieceAddress } from "../state/route";
import { patterns, shelf } from "../state/shelf";

export async function lookAtShelf(): Promise<void> {
  try {
    const [pieces, families] = await Promise.all([api.openShelf(), patterns.value ?? api.listPatterns()]);
    shelf.value = pieces;
    patterns.value = families;
  } catch (cause) {
    if (cause instanceof Unreachable) lost();
    else tellFailure("The shelf could not be shown", cause);
  }
}

/** The piece file of a new piece: its name and its pattern; everything else begins with the defaults. */
export function newPieceText(name: string, pattern: string, units: "mm" | "in"): string {
  return `longgrain: 1\nname: ${JSON.stringify(name)}\nunits: ${units}\npattern: ${pattern}\n`;
}

async function create(text: string, doing: string): Promise<void> {
  try {
    const made = await api.createPiece(text);
    goTo(pieceAddress(made.id));
  } catch (cause) {
    tellFailure(doing, cause);
  }
}

export const startPiece = (name: string, pattern: string, units: "mm" | "in") =>
  create(newPieceText(name, pattern, units), "The piece was not started");

/** A piece without parts: they are added on the bench. */
export const startEmpty = () =>
  create("longgrain: 1\nname: New piece\nunits: mm\nuse: table\n", "The piece was not started");

/** The largest piece file that is read, in bytes: as much as the server takes. */
const LARGEST = 1_000_000;

export async function takeIn(file: File): Promise<void> {
  if (file.size > LARGEST) {
    tell({ text: `${file.name} is too large for a piece file.`, bad: true });
    return;
  }
  await create(await file.text(), `${file.name} was not taken in`);
}

/** Gives a piece file another name. A file without a name gets one. */
export function renamed(text: string, rename: (name: string) => string): string {
  const line = /^name:[ \t]*(.*?)[ \t]*(#.*)?$/m;
  const found = line.exec(text);
  if (!found) return `${text.trimEnd()}\nname: ${JSON.stringify(rename("Piece"))}\n`;
  return text.replace(line, () => `name: ${JSON.stringify(rename(unquoted(found[1] ?? "")))}`);
}

function unquoted(scalar: string): string {
  if (scalar.startsWith('"')) {
    try {
      return String(JSON.parse(scalar));
    } catch {
      return scalar.replaceAll('"', "");
    }
  }
  return scalar.startsWith("'") ? scalar.slice(1, -1).replaceAll("''", "'") : scalar;
}

export async function copyPiece(id: string): Promise<void> {
  try {
    const piece = await api.openPiece(id);
    const made = await api.createPiece(renamed(piece.text, (name) => `${name}, copy`));
    tell({ text: `${made.name} stands on the shelf.` });
    await lookAtShelf();
  } catch (cause) {
    tellFailure("The piece was not copied", cause);
  }
}

export async function putAside(id: string, name: string): Promise<void> {
  try {
    await api.deletePiece(id);
    tell({
      text: `${name} was put aside.`,
      action: { title: "Take it back", run: () => void takeBack(id, name) },
    });
    await lookAtShelf();
  } catch (cause) {
    tellFailure(`${name} was not put aside`, cause);
  }
}

export async function takeBack(id: string, name: string): Promise<void> {
  try {
    await api.restorePiece(id);
    tell({ text: `${name} is back on the shelf.` });
    await lookAtShelf();
  } catch (cause) {
    tellFailure(`${name} was not taken back`, cause);
  }
}
