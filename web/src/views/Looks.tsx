// The row below the picture: what it shows, and what goes with that. One thing at a time, so that the row stays low.

import type { ComponentChildren } from "preact";
import { bendBy } from "../actions/bend";
import { showLook } from "../actions/look";
import * as bench from "../state/bench";
import * as looks from "../state/looks";
import { still } from "../state/screen";
import { Icon } from "./Icon";
import { Player } from "./Player";

const titles: Record<looks.Look, string> = {
  piece: "the piece",
  together: "how it goes together",
  bend: "how it bends",
  year: "what the year does",
};

export function Looks() {
  const answer = bench.good.value;
  const can: Record<looks.Look, boolean> = {
    piece: true,
    together: (answer?.together?.steps.length ?? 0) > 0,
    bend: (answer?.bends.length ?? 0) > 0,
    year: (answer?.scene?.year?.months.length ?? 0) > 0,
  };
  const look = looks.look.value;
  return (
    <div class="looks" data-look={look}>
      <div class="row look-row">
        <div class="show">
          <label for="look">Show</label>
          <select
            id="look"
            value={look}
            onChange={(event) => showLook(event.currentTarget.value as looks.Look)}
          >
            {(Object.keys(titles) as looks.Look[])
              .filter((l) => can[l] || l === look)
              .map((l) => (
                <option key={l} value={l}>
                  {titles[l]}
                </option>
              ))}
          </select>
        </div>
        {look === "piece" && <Whole />}
        {look === "bend" && <Bending />}
        {look === "year" && <Year />}
        {look === "together" && <Together />}
      </div>
      {look === "bend" && bench.bendCase.value && (
        <Words>{answer?.bent ? answer.bent.words : "The piece has no such load now."}</Words>
      )}
      {look === "year" && <Words>{yearWords()}</Words>}
      {look === "together" && <Words>{stepWords()}</Words>}
    </div>
  );
}

const Words = ({ children }: { children: ComponentChildren }) => (
  <p class="soft small look-words" role="status">
    {children}
  </p>
);

/** As it stands: pulled apart, seen through. */
function Whole() {
  return (
    <>
      <label class="apart">
        <span>Pull apart</span>
        <input
          type="range"
          class="rule"
          min="0"
          max="1"
          step="0.02"
          value={bench.apart.value}
          aria-valuetext={`${Math.round(bench.apart.value * 100)} percent`}
          onInput={(event) => {
            bench.apart.value = event.currentTarget.valueAsNumber;
          }}
        />
      </label>
      <label class="toggle">
        <input
          type="checkbox"
          checked={bench.seeThrough.value}
          onChange={(event) => {
            bench.seeThrough.value = event.currentTarget.checked;
          }}
        />
        See through the wood
      </label>
    </>
  );
}

/** Bent under a load case. */
function Bending() {
  const cases = bench.good.value?.bends ?? [];
  const chosen = bench.bendCase.value;
  return (
    <>
      <div class="bends">
        <label for="bend-case">under</label>
        <select id="bend-case" value={chosen} onChange={(event) => bendBy(event.currentTarget.value)}>
          <option value="">no load</option>
          {cases.map((name) => (
            <option key={name} value={name}>
              {name}
            </option>
          ))}
          {chosen && !cases.includes(chosen) && <option value={chosen}>{chosen}</option>}
        </select>
      </div>
      {chosen && !still.value && (
        <button
          type="button"
          class="quiet"
          onClick={() => {
            bench.swings.value = !bench.swings.value;
          }}
        >
          <Icon name={bench.swings.value ? "pause" : "play"} />
          {bench.swings.value ? "Pause" : "Play"}
          <span class="unseen">: the load comes and goes</span>
        </button>
      )}
    </>
  );
}

function Year() {
  const months = bench.good.value?.scene?.year?.months ?? [];
  return (
    <Player
      what="the year"
      unit="month"
      time={looks.month}
      last={months.length - 1}
      around={true}
      name={(n) => months[n]?.name ?? ""}
    />
  );
}

function yearWords(): string {
  const year = bench.good.value?.scene?.year;
  const month = year?.months[Math.round(looks.month.value)];
  if (!year || !month) return "The shop tells no climate now.";
  const scale = year.times > 1 ? `Drawn ${year.times} times as large as it is.` : "Drawn as large as it is.";
  return `${month.words}. ${scale}`;
}

function Together() {
  const steps = bench.good.value?.together?.steps ?? [];
  return (
    <Player
      what="putting together"
      unit="step"
      time={looks.step}
      last={steps.length}
      around={false}
      name={(n) => (n < steps.length ? `step ${n + 1} of ${steps.length}` : "all together")}
    />
  );
}

function stepWords(): string {
  const together = bench.good.value?.together;
  if (!together) return "The piece has no order of assembly now.";
  const { steps } = together;
  const at = Math.floor(looks.step.value);
  const step = steps[at];
  if (step) return `Step ${at + 1} of ${steps.length}: ${step.words}`;
  return together.possible
    ? "All together."
    : `${together.stuck.join(", ")} cannot be put together by straight pushes.`;
}
