// The page as a whole: what the address asks for, and the notices that hold everywhere.

import { useSignalEffect } from "@preact/signals";
import { reachable } from "../state/connection";
import { dismiss, message } from "../state/message";
import { route } from "../state/route";
import { Bench } from "./Bench";
import { Head } from "./Head";
import { Icon } from "./Icon";
import { JointsPage } from "./JointsPage";
import { LearnPage } from "./LearnPage";
import { Shelf } from "./Shelf";
import { ShopPage } from "./ShopPage";
import { TestsPage } from "./TestsPage";

export function Page() {
  const now = route.value;
  useSignalEffect(() => {
    document.body.dataset.page = route.value.page;
  });
  return (
    <>
      <Notices />
      {now.page === "piece" && <Bench key={now.id} id={now.id} />}
      {now.page === "shelf" && <Shelf />}
      {now.page === "joints" && <JointsPage key={now.id} piece={now.id} />}
      {now.page === "learn" && <LearnPage id={now.id} />}
      {now.page === "tests" && <TestsPage />}
      {now.page === "shop" && <ShopPage />}
      {now.page === "lost" && <Lost />}
    </>
  );
}

function Lost() {
  return (
    <>
      <Head here="lost" />
      <main class="sheet narrow">
        <h1>There is no such page</h1>
        <p>
          The pieces stand on <a href="/">the shelf</a>.
        </p>
      </main>
    </>
  );
}

function Notices() {
  const m = message.value;
  return (
    <section class="notices" aria-label="Notices">
      <div role="alert">
        {!reachable.value && (
          <p class="notice bad">
            <Icon name="away" />
            <span>
              Longgrain does not answer. Start it again; this page goes on by itself. What you type is kept in
              this browser.
            </span>
          </p>
        )}
      </div>
      <div role="status">
        {m && (
          <p class={m.bad ? "notice bad" : "notice"}>
            <span>{m.text}</span>
            {m.action && (
              <button
                type="button"
                class="quiet"
                onClick={() => {
                  dismiss();
                  m.action?.run();
                }}
              >
                {m.action.title}
              </button>
            )}
            <button type="button" class="quiet" onClick={dismiss}>
              <Icon name="close" /> Close
            </button>
          </p>
        )}
      </div>
    </section>
  );
}
