// The shop: tools, clamps, timber on hand and prices, as one text.

import { useEffect } from "preact/hooks";
import {
  changeShop,
  dropShopChanges,
  openShop,
  saveShop,
  saveShopOnTop,
  shop,
  shopConflict,
  shopDirty,
  shopText,
} from "../actions/shop";
import { whenBack } from "../state/connection";
import { Editor } from "./Editor";
import { Head } from "./Head";
import { Icon } from "./Icon";

export function ShopPage() {
  useEffect(() => {
    document.title = "Shop · Longgrain";
    void openShop();
    return whenBack(() => {
      if (!shop.value) void openShop();
    });
  }, []);
  const now = shop.value;
  return (
    <>
      <Head here="shop" />
      <main class="sheet shop-page">
        <h1>Shop</h1>
        <p>
          What is in the shop decides what can be made in it: tools, clamps, timber on hand, prices, people,
          and how dry the air is. Every piece is planned for the shop as it is saved here.
        </p>
        {now === null && <p class="soft">Fetching the shop …</p>}
        {now !== null && (
          <>
            <div class="row">
              <button type="button" disabled={!shopDirty.value} onClick={() => void saveShop()}>
                <Icon name="save" /> Save
              </button>
              <button type="button" class="quiet" disabled={!shopDirty.value} onClick={dropShopChanges}>
                Go back to the saved shop
              </button>
              <span class="save-state" role="status">
                {shopDirty.value
                  ? "Not saved yet"
                  : now.version === 0
                    ? "The shop that Longgrain comes with"
                    : `Saved, version ${now.version}`}
              </span>
            </div>
            {shopConflict.value > 0 && (
              <div class="question" role="alert">
                <p>
                  <strong>Version {shopConflict.value} was saved in between,</strong> in another tab or by
                  somebody else. Yours is still here and not saved.
                </p>
                <div class="row">
                  <button type="button" onClick={() => void saveShopOnTop()}>
                    Save mine as the newest
                  </button>
                  <button type="button" class="quiet" onClick={dropShopChanges}>
                    Take version {shopConflict.value}, give up mine
                  </button>
                </div>
              </div>
            )}
            <Editor
              label="The shop file"
              text={shopText.value}
              change={changeShop}
              problems={now.problems}
              title="What is wrong in the shop as it was saved"
            />
          </>
        )}
      </main>
    </>
  );
}
