// The form for one test. What was seen when the joint broke comes first; joint and rig stay from the test before.

import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";
import { addPicture, giveUpCorrection, saveTest, type, typeSize } from "../actions/tests";
import { keptPicture } from "../api/client";
import * as tests from "../state/tests";
import { Icon } from "./Icon";

export function TestEntry() {
  const form = useRef<HTMLFormElement>(null);
  const old = tests.correcting.value;
  const e = tests.entry.value;
  const known = tests.form.value;
  useEffect(() => {
    if (old) form.current?.querySelector<HTMLInputElement>("input")?.focus();
  }, [old]);
  if (!known) return null;
  return (
    <form
      ref={form}
      class="sheet grid"
      aria-labelledby="entry-title"
      noValidate
      onSubmit={async (event) => {
        event.preventDefault();
        const saved = await saveTest();
        const next = saved ? "input" : '[aria-invalid="true"]';
        form.current?.querySelector<HTMLElement>(next)?.focus();
      }}
    >
      <h2 id="entry-title">{old ? `Correct test ${old.number}` : "Enter a break"}</h2>
      {old && (
        <p>
          What was recorded before stays readable. To leave the test out of everything, tick the last box and
          say why in the note.
        </p>
      )}
      <div class="fields">
        <Field name="load" title="Largest load" help="430 N, 96 lbf or 44 kgf" />
        <Choice name="failure" title="What gave way" words={known.failures} none="not noted" />
      </div>
      <Field name="note" title="Note" help="how it broke, a knot nearby, anything odd" />
      <Photo />
      <fieldset class="grid">
        <legend>Joint</legend>
        <div class="fields">
          <Field name="joint" title="Kind of joint" list={known.kinds.map((k) => k.name)} />
          <Field name="species" title="Wood" list={known.species} help="as the catalogue calls it" />
          {(tests.kind.value?.counted ?? true) && (
            <Field name="count" title="How many" help="dowels, screws or biscuits in one joint" />
          )}
          {sizesToAsk().map((size) => (
            <SizeField key={size.name} name={size.name} help={size.help} />
          ))}
        </div>
      </fieldset>
      <fieldset class="grid">
        <legend>Rig and wood</legend>
        <div class="fields">
          <Field name="lever" title="Lever" help="from the load to the joint, such as 300 mm or 12 in" />
          <Choice name="direction" title="How it was loaded" words={known.directions} none="not noted" />
          <Field name="tested" title="Day" help="tests of one day count as one batch" />
          <Field name="glue" title="Glue" />
          <Field name="cure_hours" title="Hours of cure" />
          <Field name="moisture" title="Moisture, %" />
          <Field name="density" title="Density, kg/m³" />
          <Field name="group" title="Group" help="a name for tests that belong together" />
        </div>
      </fieldset>
      {old && (
        <div class="choices">
          <label>
            <input
              type="checkbox"
              checked={e.withdrawn}
              onChange={(event) => type({ withdrawn: event.currentTarget.checked })}
            />
            Leave this test out
          </label>
        </div>
      )}
      <div class="row">
        <button type="submit" disabled={tests.saving.value}>
          <Icon name="save" /> {old ? "Save the correction" : "Put it in the log"}
        </button>
        {old && (
          <button type="button" class="quiet" onClick={giveUpCorrection}>
            Give up the correction
          </button>
        )}
      </div>
      <p role="alert" class="wrong">
        {Object.keys(tests.wrong.value).length > 0 && (
          <>
            <Icon name="does not hold" />
            <span>Not saved: look at the {Object.keys(tests.wrong.value).length} fields in red.</span>
          </>
        )}
      </p>
    </form>
  );
}

/** The sizes of the kind that was typed, and those that the test has beside. */
function sizesToAsk(): { name: string; help: string }[] {
  const asked = tests.kind.value?.sizes ?? [];
  const others = Object.keys(tests.entry.value.sizes).filter((name) => !asked.some((s) => s.name === name));
  return [
    ...asked,
    ...others.filter((name) => tests.entry.value.sizes[name] !== "").map((name) => ({ name, help: "" })),
  ];
}

type TextName = Exclude<keyof tests.Entry, "sizes" | "withdrawn">;

function Field({
  name,
  title,
  help,
  list,
}: {
  name: TextName;
  title: string;
  help?: string;
  list?: string[];
}) {
  const id = useId();
  return (
    <Labelled id={id} title={title} help={help} place={name}>
      <input
        id={id}
        type="text"
        autocomplete="off"
        spellcheck={false}
        list={list && `${id}-list`}
        value={tests.entry.value[name]}
        aria-invalid={name in tests.wrong.value}
        aria-describedby={`${id}-help ${id}-wrong`}
        onInput={(event) => type({ [name]: event.currentTarget.value })}
      />
      {list && (
        <datalist id={`${id}-list`}>
          {list.map((word) => (
            <option key={word} value={word} />
          ))}
        </datalist>
      )}
    </Labelled>
  );
}

function SizeField({ name, help }: { name: string; help: string }) {
  const id = useId();
  const place = `sizes.${name}`;
  return (
    <Labelled id={id} title={name.charAt(0).toUpperCase() + name.slice(1)} help={help} place={place}>
      <input
        id={id}
        type="text"
        autocomplete="off"
        spellcheck={false}
        value={tests.entry.value.sizes[name] ?? ""}
        aria-invalid={place in tests.wrong.value}
        aria-describedby={`${id}-help ${id}-wrong`}
        onInput={(event) => typeSize(name, event.currentTarget.value)}
      />
    </Labelled>
  );
}

function Choice({
  name,
  title,
  words,
  none,
}: {
  name: TextName;
  title: string;
  words: string[];
  none: string;
}) {
  const id = useId();
  return (
    <Labelled id={id} title={title} place={name}>
      <select
        id={id}
        value={tests.entry.value[name]}
        aria-invalid={name in tests.wrong.value}
        aria-describedby={`${id}-help ${id}-wrong`}
        onChange={(event) => type({ [name]: event.currentTarget.value })}
      >
        <option value="">{none}</option>
        {words.map((word) => (
          <option key={word} value={word}>
            {word}
          </option>
        ))}
      </select>
    </Labelled>
  );
}

interface LabelledProps {
  id: string;
  title: string;
  help?: string | undefined;
  place: string;
  children: ComponentChildren;
}

/** A field with its name above and what is wrong with it below. */
function Labelled({ id, title, help, place, children }: LabelledProps) {
  const fault = tests.wrong.value[place];
  return (
    <div class="field" data-bad={fault !== undefined}>
      <label for={id}>{title}</label>
      {children}
      <p class="soft small" id={`${id}-help`}>
        {help}
      </p>
      <p class="wrong" id={`${id}-wrong`}>
        {fault && (
          <>
            <Icon name="does not hold" />
            {fault}
          </>
        )}
      </p>
    </div>
  );
}

function Photo() {
  const file = useRef<HTMLInputElement>(null);
  const { picture } = tests.entry.value;
  const fault = tests.wrong.value.picture;
  return (
    <div class="row">
      {picture !== "" && <img class="photo" src={keptPicture(picture)} alt="The broken joint" />}
      <button type="button" class="quiet" onClick={() => file.current?.click()}>
        {picture === "" ? "Add a photograph" : "Take another photograph"}
      </button>
      {picture !== "" && (
        <button type="button" class="quiet" onClick={() => type({ picture: "" })}>
          Take it off
        </button>
      )}
      <input
        ref={file}
        type="file"
        class="unseen"
        tabIndex={-1}
        aria-label="Photograph of the broken joint"
        accept="image/*"
        onChange={(event) => {
          const picked = event.currentTarget.files?.[0];
          if (picked) void addPicture(picked);
          event.currentTarget.value = "";
        }}
      />
      {fault && <p class="wrong">{fault}</p>}
    </div>
  );
}
