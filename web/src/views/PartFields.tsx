// The fields with which a part is changed, whoever wrote it: a choice, a size, its joints, what is wrong with them.

import { useId } from "preact/hooks";
import { changeJoint } from "../actions/editPiece";
import * as bench from "../state/bench";
import { Icon } from "./Icon";

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

export function Wrong({ text }: { text: string }) {
  if (!text) return null;
  return (
    <p class="wrong">
      <Icon name="does not hold" />
      {text}
    </p>
  );
}
