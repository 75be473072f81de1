// Changes one part of the piece by hand: its wood, its sizes, its role, whether it is there, and the joints that it has.

import { useEffect, useId } from "preact/hooks";
import { changeJoint, changePart, fetchWords } from "../actions/editPiece";
import type { ScenePart } from "../api/types";
import * as bench from "../state/bench";
import { type Item, items, placeOf, problemAt, words } from "../state/hand";
import { written } from "../state/length";
import { Icon } from "./Icon";

const sizes = ["length", "width", "thickness"] as const;

export function PartEditor({ part }: { part: ScenePart }) {
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
      <Joints part={part.name} />
      {placeOf(part.id).startsWith("parts[") || (
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
      )}
    </div>
  );
}

const text = (value: unknown) => (typeof value === "string" ? value : "");

/** The joints that a part has with others. */
function Joints({ part }: { part: string }) {
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
  change: (value: string) => void;
}

export function Choice({ label, value, none, choices, change }: ChoiceProps) {
  const id = useId();
  return (
    <div class="choice">
      <label for={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => change(event.currentTarget.value)}>
        <option value="">{none}</option>
        {value !== "" && !choices.includes(value) && <option value={value}>{value}</option>}
        {choices.map((choice) => (
          <option key={choice} value={choice}>
            {choice}
          </option>
        ))}
      </select>
    </div>
  );
}

interface FieldProps {
  label: string;
  value: string;
  wrong: string;
  change: (value: string) => void;
}

export function Field({ label, value, wrong, change }: FieldProps) {
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
        aria-describedby={wrong ? `${id}-wrong` : undefined}
        onChange={(event) => change(event.currentTarget.value.trim())}
      />
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
