// Changes one part of the piece by hand: its wood, its sizes, its role, whether it is there, and the joints that it has.

import { useEffect } from "preact/hooks";
import { changePart, fetchWords } from "../actions/editPiece";
import type { ScenePart } from "../api/types";
import * as bench from "../state/bench";
import { type Item, indexIn, items, placeOf, problemAt, words } from "../state/hand";
import { written } from "../state/length";
import { FreePart, Nudge } from "./FreePart";
import { Choice, Field, Joints, Wrong } from "./PartFields";

const sizes = ["length", "width", "thickness"] as const;

export function PartEditor({ part }: { part: ScenePart }) {
  const index = indexIn("parts", placeOf(part.id));
  return index >= 0 ? <FreePart index={index} part={part} /> : <ChangedPart part={part} />;
}

/** A part that a pattern or a copy makes: what is said of it is a change by hand. */
function ChangedPart({ part }: { part: ScenePart }) {
  useEffect(() => void fetchWords(), []);
  const changes = items("changes");
  const index = changes.findIndex((c) => c.part === part.name);
  const change: Item = changes[index] ?? {};
  const change_ = (key: string, value: string) =>
    value === "" ? changePart(part.name, {}, [key]) : changePart(part.name, { [key]: value });
  return (
    <div class="part-editor">
      <Choice
        label="Wood"
        value={text(change.species)}
        none={part.species}
        choices={words.value?.species ?? []}
        change={(value) => void change_("species", value)}
      />
      <div class="three">
        {sizes.map((size, axis) => (
          <Field
            key={size}
            label={size}
            value={text(change[size]) || written(part.size[axis] ?? 0, bench.units.value)}
            wrong={problemAt(`changes[${index}].${size}`)}
            change={(value) => void change_(size, value)}
          />
        ))}
      </div>
      {index >= 0 && <Wrong text={problemAt(`changes[${index}]`)} />}
      <Choice
        label="Role"
        value={text(change.role)}
        none={part.role}
        choices={words.value?.roles ?? []}
        change={(value) => void change_("role", value)}
      />
      <Nudge part={part} />
      <Joints part={part.name} />
      {
        <div class="row">
          <button
            type="button"
            class="quiet"
            onClick={() => {
              bench.picked.value = "";
              void changePart(
                part.name,
                { out: true },
                Object.keys(change).filter((k) => k !== "part"),
              );
            }}
          >
            Leave it out<span class="unseen"> {part.name}</span>
          </button>
        </div>
      }
    </div>
  );
}

const text = (value: unknown) => (typeof value === "string" ? value : "");
