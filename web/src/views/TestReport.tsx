// What the log says: a drawing with every test as a dot, plain sentences, and the figures as a table.

import { useEffect, useRef } from "preact/hooks";
import type { TestGroup } from "../api/types";
import * as tests from "../state/tests";

export function TestReport() {
  const r = tests.report.value;
  const box = useRef<HTMLElement>(null);
  useEffect(() => {
    // Lets the keyboard reach drawings and tables that are wider than the page.
    for (const wide of box.current?.querySelectorAll<HTMLElement>("[data-title]") ?? []) {
      wide.tabIndex = 0;
      wide.setAttribute("role", "group");
      wide.setAttribute("aria-label", wide.dataset.title ?? "");
    }
  }, [r]);
  if (!r || r.tests === 0)
    return <p class="soft">There is no test in the log yet. The book stands as it is.</p>;
  return (
    <section ref={box} class="sheet grid" aria-labelledby="says-title">
      <h2 id="says-title">What the log says</h2>
      <p class="soft small">
        Each dot is a test; an open one with an arrow held until the wood beside it broke. The bar below is
        the mean with its interval, the triangle what 95 of 100 such joints bear, the heavy line what the book
        gives.
      </p>
      {/* The server draws these: its pictures hold no script, and its policy forbids them. */}
      {r.charts.map((chart) => (
        <div class="document chart" key={chart.title}>
          <div class="picture" data-title={chart.title} dangerouslySetInnerHTML={{ __html: chart.svg }} />
        </div>
      ))}
      <Sentences title="By group" lines={r.groups.flatMap((g) => [g.sentence, ...g.warnings])} />
      <Sentences title="Which is stronger" lines={r.comparisons} />
      <Sentences
        title="Beside the book"
        lines={r.book.flatMap((b) => [b.sentence, ...(b.warning ? [b.warning] : [])])}
      />
      <Sentences title="Not set beside the book" lines={r.unused} />
      <Sentences title="Beside that" lines={r.notes} />
      <Figures groups={r.groups} />
    </section>
  );
}

function Sentences({ title, lines }: { title: string; lines: string[] }) {
  if (lines.length === 0) return null;
  return (
    <div class="sentences">
      <h3>{title}</h3>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </div>
  );
}

const three = new Intl.NumberFormat("en-GB", { maximumSignificantDigits: 3, useGrouping: false });

function Figures({ groups }: { groups: TestGroup[] }) {
  const show = (v: number | undefined, unit: string) =>
    v === undefined ? "–" : `${three.format(v)} ${unit}`;
  return (
    <details>
      <summary>Figures</summary>
      <div class="wide" data-title="Figures of the groups">
        <table>
          <thead>
            <tr>
              <th scope="col">Group</th>
              <th scope="col">Tests</th>
              <th scope="col">Held</th>
              <th scope="col">Mean</th>
              <th scope="col">Spread</th>
              <th scope="col">Lower 5 %</th>
              <th scope="col">Book</th>
            </tr>
          </thead>
          <tbody>
            {groups.map((g) => (
              <tr key={g.name}>
                <th scope="row">{g.name}</th>
                <td>{g.tests}</td>
                <td>{g.held}</td>
                <td>{show(g.mean, g.unit)}</td>
                <td>{g.spread === undefined ? "–" : `${Math.round(100 * g.spread)} %`}</td>
                <td>{show(g.lower5, g.unit)}</td>
                <td>{show(g.predicted, g.unit)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}
