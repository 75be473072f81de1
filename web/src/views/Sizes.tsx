// The sizes of the piece: a field that takes what is typed, and a rule to slide along.

import { useSignal } from "@preact/signals";
import { useId } from "preact/hooks";
import { changeSize, typeSize } from "../actions/changeSize";
import type { PieceSize } from "../api/types";
import * as bench from "../state/bench";
import { familyOf, fromSlider, lacksUnit, otherReading, range, sliderStep } from "../state/length";
import { Icon } from "./Icon";
import { Problems } from "./Problems";

export function Sizes() {
  const sizes = bench.sizes.value;
  return (
    <>
      {bench.otherProblems.value.length > 0 && (
        <Problems
          title={
            bench.good.value
              ? "This cannot be made. The picture shows the last that could."
              : "This cannot be made yet."
          }
          problems={bench.otherProblems.value}
        />
      )}
      {sizes.length === 0 && bench.latest.value && (
        <p class="soft">This piece is written out part by part. Change it under Parts or Text.</p>
      )}
      <div class="sizes">
        {sizes.map((size) => (
          <Size key={size.name} size={size} />
        ))}
      </div>
    </>
  );
}

function Size({ size }: { size: PieceSize }) {
  switch (size.kind) {
    case "length":
    case "angle":
      return <LengthSize size={size} />;
    case "count":
      return <CountSize size={size} />;
    case "choice":
      return <ChoiceSize size={size} />;
    default:
      return <YesNoSize size={size} />;
  }
}

/** What is wrong with a size, told beside its field. */
function Wrong({ id, size }: { id: string; size: PieceSize }) {
  const problem = bench.problemOf(size);
  return (
    <p class="wrong" id={id}>
      {problem && (
        <>
          <Icon name="does not hold" />
          {problem}
        </>
      )}
    </p>
  );
}

function LengthSize({ size }: { size: PieceSize }) {
  const id = useId();
  const dragged = useSignal<number | null>(null);
  const family = familyOf(size.text, bench.units.value);
  const isLength = size.kind === "length";
  const value = (isLength ? size.mm : size.number) ?? size.min;
  const waiting = bench.typed.value[size.name] !== undefined;
  const at = waiting && dragged.value !== null ? dragged.value : value;
  const bad = bench.problemOf(size) !== "";
  const text = (x: number) =>
    isLength ? fromSlider(x, size.min, size.max, size.step, family) : `${Math.round(x * 2) / 2}°`;
  return (
    <div class="size" data-bad={bad}>
      <label for={id}>{size.title}</label>
      <input
        id={id}
        type="text"
        autocomplete="off"
        spellcheck={false}
        value={size.text}
        aria-invalid={bad}
        aria-describedby={`${id}-help ${id}-wrong`}
        onInput={(event) => {
          dragged.value = null;
          typeSize(size.name, event.currentTarget.value);
        }}
        onChange={(event) => changeSize(size.name, event.currentTarget.value)}
      />
      <input
        type="range"
        class="rule"
        aria-label={`${size.title}, slide`}
        aria-valuetext={text(at)}
        min={size.min}
        max={size.max}
        step={isLength ? sliderStep(size.step, family) : size.step || 1}
        value={at}
        onInput={(event) => {
          dragged.value = event.currentTarget.valueAsNumber;
          changeSize(size.name, text(event.currentTarget.valueAsNumber));
        }}
      />
      <p class="soft small help" id={`${id}-help`}>
        {size.help}
        {isLength && `, ${range(size.min, size.max, family)}`}
      </p>
      <p class="soft small reading">
        {isLength && size.mm !== undefined && !bad && !waiting ? otherReading(size.mm, family) : ""}
      </p>
      <Wrong id={`${id}-wrong`} size={size} />
      {bad && isLength && lacksUnit(size.text) && (
        <div class="row">
          {["mm", "in"].map((unit) => (
            <button
              key={unit}
              type="button"
              class="quiet"
              onClick={() => changeSize(size.name, `${size.text.trim()} ${unit}`)}
            >
              {size.text.trim()} {unit}
            </button>
          ))}
        </div>
      )}
    </div>
  );
}

function CountSize({ size }: { size: PieceSize }) {
  const id = useId();
  const count = Number.parseInt(size.text, 10);
  const step = (by: number) => {
    const from = Number.isNaN(count) ? size.min : count;
    changeSize(size.name, String(Math.min(size.max, Math.max(size.min, from + by))));
  };
  return (
    <div class="size" data-bad={bench.problemOf(size) !== ""}>
      <label for={id}>{size.title}</label>
      <div class="row count">
        <button type="button" class="quiet" disabled={count <= size.min} onClick={() => step(-1)}>
          <Icon name="farther" />
          <span class="unseen">One less: {size.title}</span>
        </button>
        <input
          id={id}
          type="text"
          inputMode="numeric"
          value={size.text}
          aria-invalid={bench.problemOf(size) !== ""}
          aria-describedby={`${id}-help ${id}-wrong`}
          onInput={(event) => typeSize(size.name, event.currentTarget.value)}
          onChange={(event) => changeSize(size.name, event.currentTarget.value)}
        />
        <button type="button" class="quiet" disabled={count >= size.max} onClick={() => step(1)}>
          <Icon name="closer" />
          <span class="unseen">One more: {size.title}</span>
        </button>
      </div>
      <p class="soft small help" id={`${id}-help`}>
        {size.help}, {size.min} to {size.max}
      </p>
      <Wrong id={`${id}-wrong`} size={size} />
    </div>
  );
}

function ChoiceSize({ size }: { size: PieceSize }) {
  const id = useId();
  return (
    <fieldset
      class="size choices"
      data-bad={bench.problemOf(size) !== ""}
      aria-describedby={`${id}-help ${id}-wrong`}
    >
      <legend>{size.title}</legend>
      <div class="row">
        {size.choices.map((choice) => (
          <label key={choice}>
            <input
              type="radio"
              name={`${id}-${size.name}`}
              checked={size.text === choice}
              onChange={() => changeSize(size.name, choice)}
            />
            {choice}
          </label>
        ))}
      </div>
      <p class="soft small help" id={`${id}-help`}>
        {size.help}
      </p>
      <Wrong id={`${id}-wrong`} size={size} />
    </fieldset>
  );
}

function YesNoSize({ size }: { size: PieceSize }) {
  const id = useId();
  return (
    <div class="size choices" data-bad={bench.problemOf(size) !== ""}>
      <label>
        <input
          type="checkbox"
          checked={size.text === "yes"}
          aria-describedby={`${id}-help ${id}-wrong`}
          onChange={(event) => changeSize(size.name, event.currentTarget.checked ? "yes" : "no")}
        />
        {size.title}
      </label>
      <p class="soft small help" id={`${id}-help`}>
        {size.help}
      </p>
      <Wrong id={`${id}-wrong`} size={size} />
    </div>
  );
}
