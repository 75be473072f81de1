// The list of work: every task on its day, to start, stop, tick off and note. What is left is planned again each time.

import { useEffect } from "preact/hooks";
import { noteWork, openWork } from "../actions/work";
import { workCalendarAddress } from "../api/client";
import type { WorkDay, WorkTask } from "../api/types";
import * as bench from "../state/bench";
import { noting, shopClock, showDone, stateAfter, unsent, work, workProblem } from "../state/work";
import { Icon } from "./Icon";

export function Work() {
  const saved = bench.saved.value;
  const id = saved?.id ?? "";
  const version = saved?.version ?? 0;
  useEffect(() => {
    void openWork();
  }, [id, version]);
  if (!saved) return null;
  return (
    <section class="work-list" aria-labelledby="work-list-title">
      <h4 id="work-list-title">At the bench</h4>
      {bench.dirty.value && (
        <p class="old">
          This is the work on version {version}, as saved. What you changed since is not in it.
        </p>
      )}
      {workProblem.value ? (
        <p class="old">The work cannot be listed: {workProblem.value}.</p>
      ) : work.value ? (
        <List />
      ) : (
        <p class="soft">Listing the work …</p>
      )}
    </section>
  );
}

/** How many days with open work are unfolded. */
const DAYS_OPEN = 2;

function List() {
  const answer = work.value;
  const saved = bench.saved.value;
  if (!answer || !saved) return null;
  const waiting = unsent.value.length;
  const open = (day: WorkDay) => day.tasks.some((t) => stateAfter(t.state, t.id, unsent.value) !== "done");
  const days = answer.days.filter((day) => showDone.value || open(day));
  const firstOpen = days.filter(open).slice(0, DAYS_OPEN);
  return (
    <>
      <p role="status">
        <strong>
          {answer.done} of {answer.tasks} tasks done.
        </strong>{" "}
        {answer.end !== "" && `Ends ${answer.end}: ${answer.proof}.`}
        {waiting > 0 &&
          ` ${waiting} ${waiting === 1 ? "entry waits" : "entries wait"} to be sent; nothing is lost.`}
      </p>
      {answer.again &&
        answer.findings.map((f) => (
          <p key={f.where + f.what} class="old">
            <strong>{f.where}:</strong> {f.what}; {f.advice}.
          </p>
        ))}
      <div class="row">
        <label class="check">
          <input
            type="checkbox"
            checked={showDone.value}
            onChange={(e) => {
              showDone.value = e.currentTarget.checked;
            }}
          />
          Show days that are done
        </label>
        <a class="button quiet" href={`/cards/${encodeURIComponent(saved.id)}`}>
          <Icon name="paper" /> Bench cards
        </a>
        <a class="button quiet" href={workCalendarAddress(saved.id, shopClock(new Date()))} download="">
          <Icon name="past" /> Calendar of what is left
        </a>
      </div>
      {days.map((day) => (
        <details key={day.title} open={firstOpen.includes(day) || showDone.value}>
          <summary>{day.title}</summary>
          <ul class="tasks">
            {day.tasks.map((task) => (
              <Task key={task.id + task.at} task={task} />
            ))}
          </ul>
        </details>
      ))}
    </>
  );
}

function Task({ task }: { task: WorkTask }) {
  const state = stateAfter(task.state, task.id, unsent.value);
  const writing = noting.value?.task === task.id;
  if (task.wait)
    return (
      <li class="task wait">
        <span class="at">{task.at}</span>
        <span>
          {task.name} until {task.until}
        </span>
      </li>
    );
  const facts = [
    task.minutes > 0 ? `about ${task.minutes} min` : "",
    task.people > 1 ? `${task.people} people` : "",
    task.clamps ?? "",
    task.critical ? "the end waits for this" : "",
    { running: "under way", started: "begun", done: "done" }[state] ?? "",
  ].filter(Boolean);
  return (
    <li class="task" data-state={state}>
      <span class="at">{task.at}</span>
      <span>
        {task.name}
        <span class="soft">{facts.join(" · ")}</span>
        {task.note && <span class="soft">Noted: {task.note}</span>}
        {state !== "done" &&
          task.cautions.map((caution) => (
            <strong key={caution} class="caution">
              {caution}
            </strong>
          ))}
      </span>
      <span class="row">
        {state === "running" ? (
          <Press task={task} action="stop" word="Stop" />
        ) : (
          state !== "done" && (
            <Press task={task} action="start" word={state === "started" ? "Go on" : "Start"} />
          )
        )}
        {state === "done" ? (
          <Press task={task} action="undo" word="Not done" />
        ) : (
          <Press task={task} action="done" word="Done" strong />
        )}
        <button
          type="button"
          class="quiet"
          aria-expanded={writing}
          aria-label={`Note about: ${task.name}`}
          onClick={() => {
            noting.value = writing ? null : { task: task.id, text: "" };
          }}
        >
          Note
        </button>
      </span>
      {writing && <Note task={task} />}
    </li>
  );
}

interface PressProps {
  task: WorkTask;
  action: "start" | "stop" | "done" | "undo";
  word: string;
  strong?: boolean;
}

function Press({ task, action, word, strong }: PressProps) {
  return (
    <button
      type="button"
      class={strong ? "" : "quiet"}
      aria-label={`${word}: ${task.name}`}
      onClick={() => void noteWork(task, action)}
    >
      {word}
    </button>
  );
}

function Note({ task }: { task: WorkTask }) {
  const text = noting.value?.text ?? "";
  return (
    <form
      class="note"
      onSubmit={(e) => {
        e.preventDefault();
        noting.value = null;
        if (text.trim() !== "") void noteWork(task, "note", text.trim());
      }}
    >
      <label>
        Note
        <input
          type="text"
          maxLength={2000}
          value={text}
          onInput={(e) => {
            noting.value = { task: task.id, text: e.currentTarget.value };
          }}
        />
      </label>
      <button type="submit">Keep</button>
    </form>
  );
}
