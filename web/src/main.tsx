// Starts the page.

import "@fontsource-variable/atkinson-hyperlegible-next/index.css";
import "./style/tokens.css";
import "./style/base.css";
import "./style/shelf.css";
import "./style/chapters.css";
import "./style/looks.css";
import "./style/work.css";
import "./style/bench.css";
import "./style/tests.css";
import "./style/edit.css";
import "./style/print.css";
import { render } from "preact";
import { keepTyping } from "./actions/plan";
import { followLinks } from "./state/route";
import { Page } from "./views/Page";

followLinks();
keepTyping();
const root = document.getElementById("page");
if (root) render(<Page />, root);
