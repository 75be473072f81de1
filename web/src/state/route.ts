// Which page is shown. The address of the browser is the truth; pages are /, /piece/<id>, /joints,
// /joints/<id of a piece>, /tests, /learn, /learn/<lesson> and /shop.

import { signal } from "@preact/signals";

export type Route =
  | { page: "shelf" }
  | { page: "piece"; id: string }
  | { page: "tests" }
  | { page: "joints"; id: string }
  | { page: "learn"; id: string }
  | { page: "shop" }
  | { page: "lost" };

/** Reads an address. */
export function routeOf(path: string): Route {
  const piece = /^\/piece\/([^/]+)$/.exec(path);
  if (piece?.[1]) return { page: "piece", id: decodeURIComponent(piece[1]) };
  const inner = /^\/(joints|learn)(?:\/([^/]+))?$/.exec(path);
  if (inner) return { page: inner[1] as "joints" | "learn", id: decodeURIComponent(inner[2] ?? "") };
  if (path === "/tests") return { page: "tests" };
  if (path === "/shop") return { page: "shop" };
  if (path === "/") return { page: "shelf" };
  return { page: "lost" };
}

export const pieceAddress = (id: string) => `/piece/${encodeURIComponent(id)}`;

export const jointsAddress = (id: string) => `/joints/${encodeURIComponent(id)}`;

export const route = signal<Route>(routeOf(location.pathname));

/** Goes to a page, as a link does. */
export function goTo(path: string): void {
  if (path !== location.pathname) history.pushState(null, "", path);
  route.value = routeOf(path);
  scrollTo(0, 0);
}

/** Makes links inside the page change the page without loading it again. Call it once. */
export function followLinks(): void {
  addEventListener("popstate", () => {
    route.value = routeOf(location.pathname);
  });
  document.addEventListener("click", (event) => {
    const plain = event.button === 0 && !event.ctrlKey && !event.metaKey && !event.shiftKey && !event.altKey;
    const link = (event.target as Element).closest?.("a[href]");
    if (!plain || event.defaultPrevented || !(link instanceof HTMLAnchorElement)) return;
    if (link.origin !== location.origin || link.target || link.download || link.hash) return;
    if (routeOf(link.pathname).page === "lost") return;
    event.preventDefault();
    goTo(link.pathname);
  });
}
