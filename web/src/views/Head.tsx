// The head of every page but the bench: the name, and the places to be.

import type { Route } from "../state/route";

export function Head({ here }: { here: Route["page"] }) {
  return (
    <header class="head">
      <Mark />
      <nav aria-label="Pages">
        <a href="/" aria-current={here === "shelf" ? "page" : undefined}>
          Shelf
        </a>
        <a href="/joints" aria-current={here === "joints" ? "page" : undefined}>
          Joints
        </a>
        <a href="/tests" aria-current={here === "tests" ? "page" : undefined}>
          Test log
        </a>
        <a href="/learn" aria-current={here === "learn" ? "page" : undefined}>
          Learn
        </a>
        <a href="/shop" aria-current={here === "shop" ? "page" : undefined}>
          Shop
        </a>
      </nav>
    </header>
  );
}

export function Mark() {
  return (
    <span class="mark">
      <img src="/board.svg" alt="" width="32" height="32" />
      Longgrain
    </span>
  );
}
