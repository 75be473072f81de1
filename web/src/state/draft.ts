// What was typed and not saved yet, kept in the browser so that neither a closed tab nor a stopped
// server loses it. A browser may refuse to keep anything; the page then works without.

export interface Draft {
  /** The text, without the sizes below. */
  text: string;
  /** Sizes that were typed and that the server has not put into the text. */
  typed: Record<string, string>;
  /** The version that it was made from. */
  base: number;
  /** When it was typed, as Date.now() gives it. */
  at: number;
}

const key = (id: string) => `longgrain.draft.${id}`;

export function keepDraft(id: string, draft: Draft): void {
  try {
    localStorage.setItem(key(id), JSON.stringify(draft));
  } catch {
    // Full, or not allowed: nothing that a person could do about it here.
  }
}

export function dropDraft(id: string): void {
  try {
    localStorage.removeItem(key(id));
  } catch {
    // As above.
  }
}

export function findDraft(id: string): Draft | null {
  try {
    const found: unknown = JSON.parse(localStorage.getItem(key(id)) ?? "null");
    return isDraft(found) ? found : null;
  } catch {
    return null;
  }
}

function isDraft(x: unknown): x is Draft {
  const d = x as Draft | null;
  return (
    typeof d === "object" &&
    d !== null &&
    typeof d.text === "string" &&
    typeof d.base === "number" &&
    typeof d.at === "number" &&
    typeof d.typed === "object" &&
    d.typed !== null
  );
}
