// Changes one part of the piece by hand: its wood, its sizes, its role, whether it is there, and the joints that it has.

import { useEffect, useId } from "preact/hooks";
import { changeJoint, changePart, fetchWords } from "../actions/editPiece";
import type { ScenePart } from "../api/types";
import * as bench from "../state/bench";
import { type Item, indexIn, items, placeOf, problemAt, words } from "../state/hand";
import { written } from "../state/length";
import { FreePart, Nudge } from "./FreePart";
import { Icon } from "./Icon";

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

/** The joints that a part has with others. */
export function Joints({ part }: { part: string }) {
  const joints = bench.good.value?.byHand?.joints.filter((j) => j.between.includes(part)) ?? [];
  return (
    <>
      {joints.map((joint) =>
        joint.kinds.length === 0 ? null : (
          <Choice
            key={joint.name}
            label={`Joint with ${joint.between.find((n) => n !== part)}`}
            value={joint.fixed ? joint.kind : ""}
            none={joint.fixed ? "left to the plan" : `left to the plan: ${joint.kind}`}
            choices={joint.kinds}
            change={(kind) => void changeJoint(joint.between, kind)}
          />
        ),
      )}
    </>
  );
}

interface ChoiceProps {
  label: string;
  /** What was chosen by hand, "" for nothing. */
  value: string;
  /** What it is when nothing is chosen. */
  none: string;
  choices: string[];
  /** How choices are said, where that is not the choice itself. */
  words?: Record<string, string>;
  change: (value: string) => void;
}

export function Choice({ label, value, none, choices, words, change }: ChoiceProps) {
  const id = useId();
  return (
    <div class="choice">
      <label for={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => change(event.currentTarget.value)}>
        <option value="">{none}</option>
        {value !== "" && !choices.includes(value) && <option value={value}>{value}</option>}
        {choices.map((choice) => (
          <option key={choice} value={choice}>
            {words?.[choice] ?? choice}
          </option>
        ))}
      </select>
    </div>
  );
}

interface FieldProps {
  label: string;
  value: string;
  /** What it comes to, or what is taken when nothing is written. */
  hint?: string;
  wrong: string;
  change: (value: string) => void;
}

export function Field({ label, value, hint, wrong, change }: FieldProps) {
  const id = useId();
  return (
    <div class="field-by-hand" data-bad={wrong !== ""}>
      <label for={id}>{label}</label>
      <input
        id={id}
        type="text"
        autocomplete="off"
        spellcheck={false}
        value={value}
        aria-invalid={wrong !== ""}
        aria-describedby={`${id}-wrong ${id}-hint`}
        onChange={(event) => change(event.currentTarget.value.trim())}
      />
      <p class="soft small" id={`${id}-hint`}>
        {hint}
      </p>
      {wrong && (
        <p class="wrong" id={`${id}-wrong`}>
          <Icon name="does not hold" />
          {wrong}
        </p>
      )}
    </div>
  );
}

function Wrong({ text }: { text: string }) {
  if (!text) return null;
  return (
    <p class="wrong">
      <Icon name="does not hold" />
      {text}
    </p>
  );
}
