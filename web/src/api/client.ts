// The only place that calls the server. Every failure is one of three errors, so that the page can say
// what happened: the server cannot be reached, somebody else saved in between, or it refused.

import type {
  BoardsAnswer,
  BoardsBody,
  ChangedDefects,
  Correction,
  DoneJob,
  EditBody,
  EditedText,
  EditWords,
  ForcesAnswer,
  ForcesBody,
  ImportedTests,
  JointTest,
  KeptPicture,
  LoggedTest,
  MendAnswer,
  NewTest,
  Pattern,
  Piece,
  PieceVersion,
  PlanAnswer,
  PlanBody,
  SavedPiece,
  Shelf,
  Shop,
  TestForm,
  TestReport,
  WorkAnswer,
  WorkEvent,
} from "./types";

/** The server did not answer: it was stopped, or the network is gone. */
export class Unreachable extends Error {}

/** Somebody else saved a newer version, whose number is current. */
export class Conflict extends Error {
  constructor(readonly current: number) {
    super(`version ${current} was saved in between`);
  }
}

/** The server answered, and said no. The message is for a person. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    message: string,
    /** What is wrong with single values, by their place, such as "load". */
    readonly places: Record<string, string> = {},
  ) {
    super(message);
  }
}

export function call<T>(method: string, path: string, body?: unknown): Promise<T> {
  return body === undefined
    ? ask(path, { method })
    : ask(path, { method, headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
}

/** Sends a file as it stands. */
const send = <T>(path: string, file: Blob, type: string) =>
  ask<T>(path, { method: "POST", headers: { "Content-Type": type }, body: file });

async function ask<T>(path: string, init: RequestInit): Promise<T> {
  let response: Response;
  let text: string;
  try {
    response = await fetch(path, init);
    text = await response.text();
  } catch (cause) {
    throw new Unreachable("the server cannot be reached", { cause });
  }
  if (response.ok) return (text === "" ? undefined : JSON.parse(text)) as T;
  throw refusal(response.status, text);
}

/** Reads a problem+json answer. What stands between the page and the server may answer in other forms. */
function refusal(status: number, text: string): Error {
  let told: { current?: number; detail?: string; errors?: { message?: string; location?: string }[] | null } =
    {};
  try {
    told = JSON.parse(text);
  } catch {
    // Not from the server itself; the status has to do.
  }
  if (status === 409 && told.current !== undefined) return new Conflict(told.current);
  if (status === 502 || status === 504) return new Unreachable("the server cannot be reached");
  const details = (told.errors ?? []).map((e) => e.message).filter(Boolean);
  const places: Record<string, string> = {};
  for (const e of told.errors ?? [])
    if (e.location && e.message) places[e.location.replace(/^body\.?/, "")] ??= e.message;
  return new Refused(status, [told.detail ?? `the server answered ${status}`, ...details].join(": "), places);
}

const piecePath = (id: string) => `/api/pieces/${encodeURIComponent(id)}`;

export const listPatterns = () => call<Pattern[]>("GET", "/api/patterns");
export const openShelf = () => call<Shelf>("GET", "/api/shelf");
export const createPiece = (text: string) => call<SavedPiece>("POST", "/api/pieces", { text });
export const openPiece = (id: string) => call<Piece>("GET", piecePath(id));
export const savePiece = (id: string, text: string, base: number, note: string) =>
  call<SavedPiece>("PUT", piecePath(id), note === "" ? { text, base } : { text, base, note });
export const deletePiece = (id: string) => call<void>("DELETE", piecePath(id));
export const restorePiece = (id: string) => call<Piece>("POST", `${piecePath(id)}/restore`);
export const listVersions = (id: string) => call<PieceVersion[]>("GET", `${piecePath(id)}/versions`);
export const openVersion = (id: string, n: number) => call<Piece>("GET", `${piecePath(id)}/versions/${n}`);
export const openShop = () => call<Shop>("GET", "/api/shop");
export const saveShop = (text: string, base: number) => call<Shop>("PUT", "/api/shop", { text, base });
export const boards = (body: BoardsBody) => call<BoardsAnswer>("POST", "/api/boards", body);
export const saveDefects = (body: ChangedDefects) => call<Shop>("PUT", "/api/shop/defects", body);
export const putOnRack = (body: DoneJob) => call<Shop>("POST", "/api/shop/rack", body);
export const plan = (body: PlanBody) => call<PlanAnswer>("POST", "/api/plan", body);
export const forces = (body: ForcesBody) => call<ForcesAnswer>("POST", "/api/forces", body);
export const openEditWords = () => call<EditWords>("GET", "/api/edit/words");
export const editText = (body: EditBody) => call<EditedText>("POST", "/api/edit", body);
export const mends = (body: PlanBody) => call<MendAnswer>("POST", "/api/mends", body);

const testPath = (id: string) => `/api/tests/${encodeURIComponent(id)}`;

export const listTests = () => call<LoggedTest[]>("GET", "/api/tests");
export const openTestForm = () => call<TestForm>("GET", "/api/tests/form");
export const reportTests = () => call<TestReport>("GET", "/api/tests/report");
export const recordTest = (test: NewTest) => call<JointTest>("POST", "/api/tests", test);
export const correctTest = (id: string, correction: Correction) =>
  call<JointTest>("POST", `${testPath(id)}/corrections`, correction);
export const listTestVersions = (id: string) => call<JointTest[]>("GET", `${testPath(id)}/versions`);
export const importTests = (table: Blob) => send<ImportedTests>("/api/tests/import", table, "text/csv");
export const sendPicture = (picture: Blob) =>
  send<KeptPicture>("/api/pictures", picture, "application/octet-stream");
export const keptPicture = (id: string) => `/api/pictures/${encodeURIComponent(id)}`;
export const testLogAddress = "/api/tests/log.csv";
export const showWork = (id: string, now: string) =>
  call<WorkAnswer>("GET", `${piecePath(id)}/work?now=${encodeURIComponent(now)}`);
export const recordWork = (id: string, events: WorkEvent[], now: string) =>
  call<WorkAnswer>("POST", `${piecePath(id)}/work`, { events, now });

/** Tells whether the server answers. */
export async function answers(): Promise<boolean> {
  try {
    return (await fetch("/healthz")).ok;
  } catch {
    return false;
  }
}

/** What a workbook is to hold besides everything: one chapter only, or questions for a class. */
export type Print = { chapter?: string; lesson?: boolean };

/** Addresses of files made from a saved version of a piece. */
export const workbookAddress = (id: string, paper: "a4" | "letter", version: number, print: Print = {}) =>
  `${piecePath(id)}/workbook.pdf?paper=${paper}&version=${version}${print.chapter ? `&chapters=${encodeURIComponent(print.chapter)}` : ""}${print.lesson ? "&lesson=true" : ""}`;
export const labelsAddress = (id: string, paper: "a4" | "letter", version: number) =>
  `${piecePath(id)}/labels.pdf?paper=${paper}&version=${version}&at=${encodeURIComponent(location.origin)}`;
export const exportAddress = (id: string, name: string, version: number) =>
  `${piecePath(id)}/export/${name}?version=${version}`;
export const pictureAddress = (id: string, version: number) =>
  `${piecePath(id)}/picture.svg?version=${version}`;
export const workCalendarAddress = (id: string, now: string) =>
  `${piecePath(id)}/work/order.ics?now=${encodeURIComponent(now)}`;
