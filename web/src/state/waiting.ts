// What was done at the bench and has not reached the server yet. It waits in the data base of the browser, event by event, so that a
// page that is closed, a browser that is killed and two tabs on one piece lose nothing. Where a browser has no data base, or keeps it
// shut, it waits in localStorage instead.

import type { WorkEvent } from "../api/types";

interface Row {
  number?: number;
  piece: string;
  event: WorkEvent;
}

const NAME = "longgrain";
const EVENTS = "events";
const KEPT = "kept";

let opened: Promise<IDBDatabase | null> | undefined;

function base(): Promise<IDBDatabase | null> {
  opened ??= new Promise((found) => {
    try {
      const request = indexedDB.open(NAME, 1);
      request.onupgradeneeded = () => {
        request.result
          .createObjectStore(EVENTS, { keyPath: "number", autoIncrement: true })
          .createIndex("piece", "piece");
        request.result.createObjectStore(KEPT);
      };
      request.onsuccess = () => found(request.result);
      request.onerror = () => found(null);
      request.onblocked = () => found(null);
    } catch {
      found(null); // a browser without, or one that keeps nothing
    }
  });
  return opened;
}

/** Runs do in one transaction and returns its answer once everything is kept. */
function within<T>(
  db: IDBDatabase,
  store: string,
  mode: IDBTransactionMode,
  act: (s: IDBObjectStore) => IDBRequest<T> | undefined,
): Promise<T | undefined> {
  return new Promise((done, failed) => {
    const transaction = db.transaction(store, mode, {
      durability: mode === "readwrite" ? "strict" : "default",
    });
    const request = act(transaction.objectStore(store));
    transaction.oncomplete = () => done(request?.result);
    transaction.onerror = () => failed(transaction.error);
    transaction.onabort = () => failed(transaction.error);
  });
}

const oldKey = (piece: string) => `longgrain.work.${piece}`;

function inStorage(piece: string): WorkEvent[] {
  try {
    const found: unknown = JSON.parse(localStorage.getItem(oldKey(piece)) ?? "[]");
    return Array.isArray(found) ? found.filter(isEvent) : [];
  } catch {
    return [];
  }
}

function toStorage(piece: string, events: WorkEvent[]): void {
  try {
    if (events.length === 0) localStorage.removeItem(oldKey(piece));
    else localStorage.setItem(oldKey(piece), JSON.stringify(events));
  } catch {
    // A browser may refuse to keep anything; the page then works without.
  }
}

export function isEvent(x: unknown): x is WorkEvent {
  const e = x as WorkEvent | null;
  return (
    typeof e === "object" &&
    e !== null &&
    [e.id, e.task, e.action, e.at].every((field) => typeof field === "string")
  );
}

/** Adds events of a piece; the promise is kept when they are. */
export async function addWaiting(piece: string, events: WorkEvent[]): Promise<void> {
  const db = await base();
  if (db) {
    try {
      await within(db, EVENTS, "readwrite", (s) => {
        for (const event of events) s.add({ piece, event } satisfies Row);
        return undefined;
      });
      return;
    } catch {
      // No room in the data base, or it was taken away: the other place may still have some.
    }
  }
  toStorage(piece, [...inStorage(piece), ...events]);
}

/** The events of a piece that wait, the oldest first. */
export async function listWaiting(piece: string): Promise<WorkEvent[]> {
  const db = await base();
  const old = inStorage(piece);
  if (!db) return old;
  if (old.length > 0) {
    toStorage(piece, []);
    await addWaiting(piece, old);
  }
  const rows = await within(
    db,
    EVENTS,
    "readonly",
    (s) => s.index("piece").getAll(piece) as IDBRequest<Row[]>,
  );
  return (rows ?? []).sort((a, b) => (a.number ?? 0) - (b.number ?? 0)).map((r) => r.event);
}

/** Takes events away that the server has. */
export async function removeWaiting(piece: string, sent: WorkEvent[]): Promise<void> {
  const ids = new Set(sent.map((e) => e.id));
  const db = await base();
  if (!db) {
    toStorage(
      piece,
      inStorage(piece).filter((e) => !ids.has(e.id)),
    );
    return;
  }
  const rows = await within(
    db,
    EVENTS,
    "readonly",
    (s) => s.index("piece").getAll(piece) as IDBRequest<Row[]>,
  );
  await within(db, EVENTS, "readwrite", (s) => {
    for (const row of rows ?? []) if (row.number !== undefined && ids.has(row.event.id)) s.delete(row.number);
    return undefined;
  });
}

/** Keeps an answer of the server, to be shown when it does not answer. */
export async function keepAnswer(key: string, value: unknown): Promise<void> {
  const db = await base();
  if (db) await within(db, KEPT, "readwrite", (s) => s.put(value, key));
}

export async function findAnswer<T>(key: string): Promise<T | undefined> {
  const db = await base();
  return db ? ((await within(db, KEPT, "readonly", (s) => s.get(key))) as T | undefined) : undefined;
}

/** A name that no other event has: 96 random bits. It needs no secure context, as a phone in the shop has none. */
export function eventName(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(12));
  return [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
}
