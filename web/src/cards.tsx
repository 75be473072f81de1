// Starts the page of the bench cards: light, for a phone at the bench.

import "@fontsource-variable/atkinson-hyperlegible-next/index.css";
import "./style/tokens.css";
import "./style/base.css";
import "./style/cards.css";
import { render } from "preact";
import { keepPage, layOnTop, openCards } from "./actions/cards";
import { CardsPage } from "./views/Cards";

const root = document.getElementById("page");
if (root) render(<CardsPage />, root);
void openCards().then(keepPage);
addEventListener("hashchange", () => {
  if (location.hash.startsWith("#code=")) void openCards();
  else layOnTop(location.hash.slice(1));
});
