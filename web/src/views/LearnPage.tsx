// Lessons: a question, inputs to drag, the picture and the curve that answer it, and the working with its sources.

import { useEffect } from "preact/hooks";
import { dragInput, listLessons, openLesson } from "../actions/lessons";
import type { LessonAnswer, LessonInfo, LessonInput } from "../api/types";
import { whenBack } from "../state/connection";
import * as lessons from "../state/lessons";
import { Drawing } from "./Drawing";
import { Head } from "./Head";

export function LearnPage({ id }: { id: string }) {
  useEffect(() => {
    document.title = "Learn · Longgrain";
    void listLessons();
    return whenBack(() => void listLessons());
  }, []);
  const all = lessons.lessons.value;
  const open = all?.find((l) => l.id === id) ?? all?.[0];
  return (
    <>
      <Head here="learn" />
      <main class="learn-page">
        <h1>Learn</h1>
        {all === null && <p class="soft">Fetching the lessons …</p>}
        {all && (
          <nav aria-label="Lessons">
            <ul class="lessons">
              {all.map((l) => (
                <li key={l.id}>
                  <a href={`/learn/${l.id}`} aria-current={l === open ? "page" : undefined}>
                    {l.title}
                  </a>
                </li>
              ))}
            </ul>
          </nav>
        )}
        {open && <Lesson key={open.id} lesson={open} />}
      </main>
    </>
  );
}

function Lesson({ lesson }: { lesson: LessonInfo }) {
  useEffect(() => openLesson(lesson.id), [lesson.id]);
  const found = lessons.answer.value;
  const answer = found?.id === lesson.id ? found.answer : null;
  return (
    <article class="sheet grid" aria-labelledby="lesson-title">
      <h2 id="lesson-title">{lesson.title}</h2>
      <p>{lesson.about}</p>
      <div class="fields">
        {lesson.inputs.map((input) => (
          <Input key={input.name} lesson={lesson.id} input={input} answer={answer} />
        ))}
      </div>
      {answer === null ? (
        <p class="soft">Working it out …</p>
      ) : (
        <>
          <p class="says" role="status">
            {answer.says}
          </p>
          <div class="pictures">
            <Drawing svg={answer.picture} label="What explains it" />
            <Drawing svg={answer.curve} label="The answer over the input that matters most" />
          </div>
          <Working answer={answer} />
        </>
      )}
    </article>
  );
}

function Input(props: { lesson: string; input: LessonInput; answer: LessonAnswer | null }) {
  const { lesson, input, answer } = props;
  const own = lessons.values.value[lesson]?.[input.name];
  const value = own ?? answer?.values[input.name] ?? input.default;
  const unit = input.unit ? `, ${input.unit}` : "";
  const id = `lesson-${input.name}`;
  const drag = (v: number) => dragInput(lesson, input.name, v);
  return (
    <div class="size">
      <label for={id}>
        {input.title}
        {unit}
      </label>
      <input
        id={id}
        type="number"
        inputMode="decimal"
        min={input.min}
        max={input.max}
        step={input.step}
        value={value}
        onInput={(event) => drag(event.currentTarget.valueAsNumber)}
      />
      <input
        type="range"
        class="rule"
        aria-label={`${input.title}, slide`}
        min={input.min}
        max={input.max}
        step={input.step}
        value={value}
        onInput={(event) => drag(event.currentTarget.valueAsNumber)}
      />
    </div>
  );
}

function Working({ answer }: { answer: LessonAnswer }) {
  return (
    <section aria-labelledby="working-title" class="grid">
      <h3 id="working-title">The working</h3>
      <ol class="working">
        {answer.working.map((step) => (
          <li key={step.title}>
            <p>
              <strong>{step.title}</strong>
            </p>
            {step.formula && <p class="formula">{step.formula}</p>}
            {step.inputs.length > 0 && (
              <ul>
                {step.inputs.map((input) => (
                  <li key={input} class="small">
                    {input}
                  </li>
                ))}
              </ul>
            )}
            <p class="result">{step.result}</p>
            <p class="soft small">
              Source: {step.source}
              {step.note && `. ${step.note}`}
            </p>
          </li>
        ))}
      </ol>
    </section>
  );
}
