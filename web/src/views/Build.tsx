// Tools to build a piece part by part: add a part, connect two faces, name dimensions, and what is copied.

import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { addPart, connect, disconnect, setDimension, takeOutRepeat } from "../actions/build";
import { fetchWords } from "../actions/editPiece";
import * as bench from "../state/bench";
import { type Item, items, mapping, problemAt, shown, words } from "../state/hand";
import { FreePart } from "./FreePart";
import { Choice, Field } from "./PartFields";

const faces = ["left", "right", "front", "back", "bottom", "top"];

export function Build() {
  useEffect(() => void fetchWords(), []);
  return (
    <div class="build">
      <AddPart />
      <Connect />
      <Dimensions />
      <Repeats />
      <Undrawn />
    </div>
  );
}

function AddPart() {
  const inch = bench.units.value === "inch";
  const name = useSignal("");
  const role = useSignal("");
  const length = useSignal("");
  const width = useSignal("");
  const thickness = useSignal("");
  const zero = inch ? "0 in" : "0 mm";
  const add = () => {
    // In front of the piece, so that it runs into nothing.
    const parts = bench.good.value?.scene?.parts ?? [];
    const front = Math.min(0, ...parts.map((p) => p.origin[1] ?? 0)) - 300;
    const at = [
      zero,
      parts.length > 0 ? (inch ? `${Math.round(front / 25.4)} in` : `${Math.round(front)} mm`) : zero,
      zero,
    ];
    const item: Item = {
      name: name.value || role.value || "part",
      length: length.value || (inch ? "16 in" : "400 mm"),
      width: width.value || (inch ? "2 1/2 in" : "60 mm"),
      thickness: thickness.value || (inch ? "3/4 in" : "20 mm"),
      at,
    };
    if (role.value) item.role = role.value;
    void addPart(item);
    name.value = "";
  };
  return (
    <details>
      <summary>Add a part</summary>
      <div class="three">
        <Field label="name" value={name.value} wrong="" change={(v) => (name.value = v)} />
        <Choice
          label="Role of the part"
          value={role.value}
          none="none"
          choices={words.value?.roles ?? []}
          change={(v) => (role.value = v)}
        />
        <Field
          label="new length"
          hint={inch ? "16 in" : "400 mm"}
          value={length.value}
          wrong=""
          change={(v) => (length.value = v)}
        />
        <Field
          label="new width"
          hint={inch ? "2 1/2 in" : "60 mm"}
          value={width.value}
          wrong=""
          change={(v) => (width.value = v)}
        />
        <Field
          label="new thickness"
          hint={inch ? "3/4 in" : "20 mm"}
          value={thickness.value}
          wrong=""
          change={(v) => (thickness.value = v)}
        />
        <button type="button" onClick={add}>
          Add it
        </button>
      </div>
    </details>
  );
}

/** Connects two parts by the faces that meet. The part that is chosen in the picture can be taken for either. */
function Connect() {
  const names = bench.good.value?.scene?.parts.map((p) => p.name) ?? [];
  const chosen = bench.good.value?.scene?.parts.find((p) => p.id === bench.picked.value)?.name ?? "";
  const parts = [useSignal(""), useSignal("")] as const;
  const sides = [useSignal(""), useSignal("")] as const;
  const purpose = useSignal("");
  const list = items("connections");
  if (names.length < 2) return null;
  const ready = parts[0].value !== "" && parts[1].value !== "" && parts[0].value !== parts[1].value;
  const make = () => {
    const item: Item = { between: [parts[0].value, parts[1].value] };
    if (sides[0].value && sides[1].value) item.faces = [sides[0].value, sides[1].value];
    if (purpose.value) item.purpose = purpose.value;
    void connect(item);
  };
  return (
    <details>
      <summary>Connect two faces</summary>
      {[0, 1].map((k) => (
        <div class="three" key={k}>
          <Choice
            label={k === 0 ? "One part" : "The other part"}
            value={parts[k]?.value ?? ""}
            none="choose a part"
            choices={names}
            change={(v) => {
              const part = parts[k];
              if (part) part.value = v;
            }}
          />
          <Choice
            label={k === 0 ? "Its face" : "Face of the other"}
            value={sides[k]?.value ?? ""}
            none="the one that touches"
            choices={faces}
            change={(v) => {
              const side = sides[k];
              if (side) side.value = v;
            }}
          />
          <button
            type="button"
            class="quiet"
            disabled={chosen === ""}
            onClick={() => {
              const part = parts[k];
              if (part) part.value = chosen;
            }}
          >
            Take {chosen || "the chosen part"}
          </button>
        </div>
      ))}
      <div class="three">
        <Choice
          label="Purpose"
          value={purpose.value}
          none="a joint"
          choices={["top fastening"]}
          words={{ "top fastening": "holds a top that moves" }}
          change={(v) => (purpose.value = v)}
        />
        <button type="button" disabled={!ready} onClick={make}>
          Connect them
        </button>
      </div>
      <List
        of={list.map((c) => shown(c.between).replace(", ", " to "))}
        place="connections"
        word="Part them"
        out={(k) => void disconnect(k)}
      />
    </details>
  );
}

/** The named dimensions, as they are written and what they come to. */
function Dimensions() {
  const named = bench.good.value?.byHand?.named ?? [];
  const written = mapping("dimensions");
  const name = useSignal("");
  const text = useSignal("");
  return (
    <details open={Object.keys(written).length > 0}>
      <summary>Dimensions</summary>
      <div class="three">
        {Object.entries(written).map(([key, value]) => (
          <Field
            key={key}
            label={key}
            value={value}
            hint={named.find((d) => d.name === key && d.is !== value)?.is ?? ""}
            wrong={problemAt(`dimensions.${key}`)}
            change={(v) => void setDimension(key, v)}
          />
        ))}
      </div>
      <div class="three">
        <Field label="new dimension" value={name.value} wrong="" change={(v) => (name.value = v)} />
        <Field label="is" value={text.value} wrong="" change={(v) => (text.value = v)} />
        <button
          type="button"
          class="quiet"
          disabled={!/^[A-Za-z_]\w*$/.test(name.value) || !text.value}
          onClick={() => {
            void setDimension(name.value, text.value);
            name.value = "";
            text.value = "";
          }}
        >
          Name it
        </button>
      </div>
    </details>
  );
}

/** What is copied, with ways to take copies out. */
function Repeats() {
  const list = items("repeats");
  if (list.length === 0) return null;
  const how = (r: Item) =>
    r.mirror ? "in a mirror" : r.turn ? "turned" : `in a row${r.count ? `, ${shown(r.count)} times` : ""}`;
  return (
    <details open>
      <summary>Copies</summary>
      <List
        of={list.map((r) => `${shown(r.parts)}, ${how(r)}`)}
        place="repeats"
        word="Take the copies out"
        out={(k) => void takeOutRepeat(k)}
      />
    </details>
  );
}

interface ListProps {
  of: string[];
  /** The list of the file, for what is wrong with its items. */
  place: string;
  word: string;
  out: (index: number) => void;
}

function List({ of, place, word, out }: ListProps) {
  return (
    <ul class="said-list">
      {of.map((text, k) => {
        const wrong = problemAt(`${place}[${k}]`);
        return (
          <li key={`${k} ${text}`} class="row said">
            <span>{text}</span>
            <button type="button" class="quiet" onClick={() => out(k)}>
              {word}
              <span class="unseen"> {text}</span>
            </button>
            {wrong && <p class="wrong">{wrong}</p>}
          </li>
        );
      })}
    </ul>
  );
}

/** Parts of the file that the picture does not show yet, because something is wrong with them. */
function Undrawn() {
  const drawn = new Set(bench.good.value?.scene?.parts.map((p) => p.name));
  const hidden = items("parts").map((p, index) => ({ name: shown(p.name), index }));
  const left = hidden.filter(({ name }) => bench.problems.value.length > 0 && !drawn.has(name));
  return (
    <>
      {left.map(({ name, index }) => (
        <section key={`${index} ${name}`} class="part-more">
          <h3>{name}</h3>
          <FreePart index={index} part={undefined} />
        </section>
      ))}
    </>
  );
}
