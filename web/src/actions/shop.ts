// Opens and saves the description of the shop. Saving is allowed when the text was changed; a shop with
// problems is saved too, and they are listed.

import { computed, signal } from "@preact/signals";
import { Conflict, openShop as fetchShop, saveShop as sendShop, Unreachable } from "../api/client";
import type { Shop } from "../api/types";
import { lost } from "../state/connection";
import { dropDraft, findDraft, keepDraft } from "../state/draft";
import { tell, tellFailure } from "../state/message";

export const shop = signal<Shop | null>(null);
export const shopText = signal("");
export const shopConflict = signal(0);
export const shopDirty = computed(() => shop.value !== null && shopText.value !== shop.value.text);

/** The name under which an unsaved shop is kept in the browser. */
const DRAFT = "shop";

export async function openShop(): Promise<void> {
  try {
    const now = await fetchShop();
    const draft = findDraft(DRAFT);
    shop.value = draft ? { ...now, version: draft.base } : now;
    shopText.value = draft?.text ?? now.text;
    shopConflict.value = 0;
  } catch (cause) {
    if (cause instanceof Unreachable) lost();
    else tellFailure("The shop could not be opened", cause);
  }
}

export function changeShop(text: string): void {
  shopText.value = text;
  const now = shop.value;
  if (!now) return;
  if (shopDirty.value) keepDraft(DRAFT, { text, typed: {}, base: now.version, at: Date.now() });
  else dropDraft(DRAFT);
}

export async function saveShop(): Promise<void> {
  const before = shop.value;
  if (!before || !shopDirty.value) return;
  const text = shopText.value;
  try {
    shop.value = await sendShop(text, before.version);
    shopConflict.value = 0;
    if (shopText.value === text) dropDraft(DRAFT);
    tell({ text: "The shop is saved. Every piece is planned for it from now on." });
  } catch (cause) {
    if (cause instanceof Conflict) shopConflict.value = cause.current;
    else tellFailure("The shop was not saved", cause);
  }
}

/** Answers a conflict by saving on top of the other version. */
export async function saveShopOnTop(): Promise<void> {
  if (!shop.value) return;
  shop.value = { ...shop.value, version: shopConflict.value };
  await saveShop();
}

/** Gives up what was typed and shows the saved shop. */
export function dropShopChanges(): void {
  dropDraft(DRAFT);
  void openShop();
}
