// A part that the piece file writes out: its sizes and place as they are written, formulas too, what it reaches between and lies
// beside, how it lies, and copies of it.

import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { addRepeat, deletePart, movePart, setPart } from "../actions/build";
import { fetchWords } from "../actions/editPiece";
import type { ScenePart } from "../api/types";
import * as bench from "../state/bench";
import { type Item, items, problemAt, shown, words } from "../state/hand";
import { written } from "../state/length";
import { Choice, Field, Joints } from "./PartFields";

const sizes = ["length", "width", "thickness"] as const;
const ways = ["to the right", "to the back", "up"] as const;
const sides = ["left", "right", "front", "back", "bottom", "top", "middle x", "middle y", "middle z"];
const directions = { x: "left to right", y: "front to back", z: "bottom to top" } as const;

/** The names of the other parts. */
const others = (name: string) =>
  bench.good.value?.scene?.parts.map((p) => p.name).filter((n) => n !== name) ?? [];

export function FreePart({ index, part }: { index: number; part: ScenePart | undefined }) {
  useEffect(() => void fetchWords(), []);
  const item: Item = items("parts")[index] ?? {};
  const name = String(item.name ?? "");
  const at = Array.isArray(item.at) ? item.at.map(shown) : [];
  const zero = bench.units.value === "inch" ? "0 in" : "0 mm";
  const path = `parts[${index}]`;
  const put = (key: string, value: unknown) =>
    void (value === "" ? setPart(index, {}, [key]) : setPart(index, { [key]: value }));
  return (
    <div class="part-editor">
      <div class="three">
        {sizes.map((size, axis) => (
          <Field
            key={size}
            label={size}
            value={shown(item[size])}
            hint={part && !item[size] ? written(part.size[axis] ?? 0, bench.units.value) : ""}
            wrong={problemAt(`${path}.${size}`)}
            change={(value) => put(size, value)}
          />
        ))}
      </div>
      <div class="three">
        {ways.map((way, axis) => (
          <Field
            key={way}
            label={way}
            value={at[axis] ?? zero}
            wrong={problemAt(`${path}.at[${axis}]`)}
            change={(value) => {
              const next = [0, 1, 2].map((k) => at[k] ?? zero);
              next[axis] = value || zero;
              put("at", next);
            }}
          />
        ))}
      </div>
      {part && <Nudge part={part} />}
      <div class="three">
        <Choice
          label="Length runs"
          value={shown(item.along)}
          none={directions.x}
          choices={["x", "y", "z"]}
          words={directions}
          change={(value) => put("along", value)}
        />
        <Choice
          label="Width runs"
          value={shown(item.across)}
          none="as the length lets it"
          choices={["x", "y", "z"].filter((d) => d !== (shown(item.along) || "x"))}
          words={directions}
          change={(value) => put("across", value)}
        />
        <Choice
          label="Role"
          value={shown(item.role)}
          none="none"
          choices={words.value?.roles ?? []}
          change={(value) => put("role", value)}
        />
      </div>
      <Choice
        label="Wood"
        value={shown(item.species)}
        none="that of the piece"
        choices={words.value?.species ?? []}
        change={(value) => put("species", value)}
      />
      <Told text={problemAt(path)} />
      <Span index={index} item={item} name={name} />
      <Beside index={index} item={item} name={name} />
      <Copies name={name} />
      <Joints part={name} />
      <div class="row">
        <button type="button" class="quiet" onClick={() => void deletePart(index)}>
          Delete<span class="unseen"> {name}</span>
        </button>
      </div>
    </div>
  );
}

function Told({ text }: { text: string }) {
  return text ? <p class="wrong">{text}</p> : null;
}

/** Moves a part by steps, for keys and fingers. Dragging it in the picture does the same. */
export function Nudge({ part }: { part: ScenePart }) {
  const mark = bench.good.value?.byHand?.mark || 1;
  const step = useSignal(10);
  const by = Math.max(step.value, mark);
  const moves: [string, number[]][] = [
    ["left", [-by, 0, 0]],
    ["right", [by, 0, 0]],
    ["front", [0, -by, 0]],
    ["back", [0, by, 0]],
    ["down", [0, 0, -by]],
    ["up", [0, 0, by]],
  ];
  return (
    <fieldset class="nudge">
      <legend>Move {part.name}</legend>
      <div class="row">
        <select
          aria-label="By"
          value={String(step.value)}
          onChange={(event) => {
            step.value = Number(event.currentTarget.value);
          }}
        >
          {[mark, 10, 100].map((mm) => (
            <option key={mm} value={String(mm)}>
              {written(mm, bench.units.value)}
            </option>
          ))}
        </select>
        {moves.map(([way, move]) => (
          <button key={way} type="button" class="quiet" onClick={() => void movePart(part.id, move)}>
            {way}
          </button>
        ))}
      </div>
    </fieldset>
  );
}

/** Lays a part between two others. */
function Span({ index, item, name }: { index: number; item: Item; name: string }) {
  const now = Array.isArray(item.between) ? item.between.map(shown) : [];
  const from = useSignal("");
  const to = useSignal("");
  if (now.length === 2)
    return (
      <div class="row said">
        <span>
          Reaches between <strong>{now[0]}</strong> and <strong>{now[1]}</strong>
        </span>
        <button
          type="button"
          class="quiet"
          onClick={() => {
            const part = bench.good.value?.scene?.parts.find((p) => p.name === name);
            void setPart(index, { length: written(part?.size[0] ?? 300, bench.units.value) }, ["between"]);
          }}
        >
          Give it a length instead
        </button>
      </div>
    );
  return (
    <details>
      <summary>Reach between two parts</summary>
      <div class="three">
        <Choice
          label="From"
          value={from.value}
          none="choose a part"
          choices={others(name)}
          change={(v) => (from.value = v)}
        />
        <Choice
          label="To"
          value={to.value}
          none="choose a part"
          choices={others(name)}
          change={(v) => (to.value = v)}
        />
        <button
          type="button"
          class="quiet"
          disabled={!from.value || !to.value || from.value === to.value}
          onClick={() => void setPart(index, { between: [from.value, to.value] }, ["length"])}
        >
          Reach between them
        </button>
      </div>
    </details>
  );
}

/** Lays sides of a part beside sides of others. */
function Beside({ index, item, name }: { index: number; item: Item; name: string }) {
  const places = Array.isArray(item.place) ? (item.place as Item[]) : [];
  const side = useSignal("front");
  const of = useSignal("");
  const to = useSignal("");
  const distance = useSignal("");
  const way = useSignal("in");
  const axis = (s: string) =>
    (({ left: 0, right: 0, "middle x": 0, front: 1, back: 1, "middle y": 1 }) as Record<string, number>)[s] ??
    2;
  return (
    <>
      {places.map((place, k) => (
        <div class="row said" key={`${k} ${shown(place)}`}>
          <span>
            Its {shown(place.side)} at the {shown(place.to) || shown(place.side)} of{" "}
            <strong>{shown(place.of)}</strong>
            {place.in !== undefined && `, ${shown(place.in)} in`}
            {place.out !== undefined && `, ${shown(place.out)} out`}
          </span>
          <button
            type="button"
            class="quiet"
            onClick={() => {
              const left = places.filter((_, n) => n !== k);
              void (left.length > 0 ? setPart(index, { place: left }) : setPart(index, {}, ["place"]));
            }}
          >
            Let go<span class="unseen"> of {shown(place.of)}</span>
          </button>
          <Told text={problemAt(`parts[${index}].place[${k}]`)} />
        </div>
      ))}
      <details>
        <summary>Lay a side beside another part</summary>
        <div class="three">
          <Choice
            label="Its side"
            value={side.value}
            none="front"
            choices={sides}
            change={(v) => (side.value = v || "front")}
          />
          <Choice
            label="Other part"
            value={of.value}
            none="choose a part"
            choices={others(name)}
            change={(v) => (of.value = v)}
          />
          <Choice
            label="Side of the other"
            value={to.value}
            none="the same side"
            choices={sides.filter((s) => axis(s) === axis(side.value) && s !== side.value)}
            change={(v) => (to.value = v)}
          />
          <Field label="distance" value={distance.value} wrong="" change={(v) => (distance.value = v)} />
          <Choice
            label="Direction"
            value={way.value === "in" ? "" : way.value}
            none="into the other part"
            choices={["out"]}
            words={{ out: "away from it" }}
            change={(v) => (way.value = v || "in")}
          />
          <button
            type="button"
            class="quiet"
            disabled={!of.value}
            onClick={() => {
              const at = Array.isArray(item.at) ? [...item.at] : null;
              if (at) at[axis(side.value)] = bench.units.value === "inch" ? "0 in" : "0 mm";
              const place = {
                side: side.value,
                of: of.value,
                ...(to.value && axis(to.value) === axis(side.value) && { to: to.value }),
                ...(distance.value && { [way.value]: distance.value }),
              };
              void setPart(index, { place: [...places, place], ...(at && { at }) });
            }}
          >
            Lay it there
          </button>
        </div>
      </details>
    </>
  );
}

/** Copies of a part: in a mirror, in a row, turned. */
export function Copies({ name }: { name: string }) {
  const way = useSignal<"mirror" | "row" | "turn">("mirror");
  const axis = useSignal("x");
  const at = useSignal("");
  const count = useSignal("1");
  const word = useSignal("");
  const becomes = useSignal("");
  const zero = bench.units.value === "inch" ? "0 in" : "0 mm";
  const along = ["x", "y", "z"].indexOf(axis.value);
  const make = () => {
    const item: Item = { parts: [name] };
    if (way.value === "mirror") item.mirror = { across: axis.value, at: at.value || zero };
    if (way.value === "turn")
      item.turn = { about: axis.value, at: [at.value || zero, at.value || zero, zero] };
    if (way.value === "row") {
      item.step = [0, 1, 2].map((k) => (k === along ? at.value || zero : zero));
      if (Number(count.value) > 1) item.count = Number(count.value);
    }
    if (word.value && becomes.value) item.rename = [word.value, becomes.value];
    void addRepeat(item);
  };
  return (
    <details>
      <summary>Copy it</summary>
      <div class="three">
        <Choice
          label="How"
          value={way.value === "mirror" ? "" : way.value}
          none="in a mirror"
          choices={["row", "turn"]}
          words={{ row: "in a row", turn: "turned by a quarter" }}
          change={(v) => (way.value = (v || "mirror") as "mirror" | "row" | "turn")}
        />
        <Choice
          label={way.value === "turn" ? "About an axis from" : "Direction"}
          value={axis.value}
          none={directions.x}
          choices={["x", "y", "z"]}
          words={directions}
          change={(v) => (axis.value = v || "x")}
        />
        <Field
          label={way.value === "mirror" ? "mirror at" : way.value === "row" ? "one step" : "axis at"}
          value={at.value}
          wrong=""
          change={(v) => (at.value = v)}
        />
        {way.value === "row" && (
          <Field label="copies" value={count.value} wrong="" change={(v) => (count.value = v)} />
        )}
        <Field label="word of the name" value={word.value} wrong="" change={(v) => (word.value = v)} />
        <Field label="becomes" value={becomes.value} wrong="" change={(v) => (becomes.value = v)} />
        <button type="button" class="quiet" disabled={!at.value} onClick={make}>
          Make the copy
        </button>
      </div>
    </details>
  );
}
