// Every test of the log, the last one first, each with its correction and its history.

import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { correct, lookAtTestVersions } from "../actions/tests";
import { keptPicture } from "../api/client";
import type { JointTest, LoggedTest } from "../api/types";
import * as tests from "../state/tests";
import { Dialog } from "./Dialog";
import { day } from "./day";

/** How many tests are shown before a person asks for more. */
const SHOWN = 20;

export function TestList() {
  const all = useSignal(false);
  const past = useSignal<LoggedTest | null>(null);
  const log = (tests.log.value ?? []).toReversed();
  if (log.length === 0) return null;
  const shown = all.value ? log : log.slice(0, SHOWN);
  return (
    <section class="sheet grid" aria-labelledby="all-title">
      <h2 id="all-title">{log.length === 1 ? "1 test" : `${log.length} tests`}</h2>
      <ol class="tests">
        {shown.map((test) => (
          <Test key={test.id} test={test} look={() => (past.value = test)} />
        ))}
      </ol>
      {shown.length < log.length && (
        <button type="button" class="quiet" onClick={() => (all.value = true)}>
          Show the other {log.length - shown.length}
        </button>
      )}
      {past.value && <Past test={past.value} close={() => (past.value = null)} />}
    </section>
  );
}

/** What was seen and how, in one line. */
function seen(t: JointTest): string {
  const lever = t.lever ? ` at ${t.lever.text}` : "";
  const how = t.direction ? `, ${t.direction}` : "";
  const failure = t.failure ? `; gave way: ${t.failure}` : "";
  return `${t.load.text}${lever}${how}${failure}${t.tested ? `; ${t.tested}` : ""}`;
}

function Test({ test, look }: { test: LoggedTest; look: () => void }) {
  const count = test.count ? `${test.count} × ` : "";
  return (
    <li data-out={test.withdrawn ?? false}>
      <h3>
        Test {test.number}: {count}
        {test.joint}, {test.species}
      </h3>
      <p>
        {test.withdrawn && <strong>Left out. </strong>}
        {seen(test)}. {test.predicted ? `The book gave ${test.predicted.text}.` : ""}
      </p>
      {test.note && <p>{test.note}</p>}
      {test.lacks.length > 0 && (
        <p class="soft small">Not set beside the book: missing {test.lacks.join(", ")}.</p>
      )}
      <div class="row">
        <button
          type="button"
          class="quiet"
          onClick={() => {
            correct(test);
            document.getElementById("entry-title")?.scrollIntoView();
          }}
        >
          Correct<span class="unseen"> test {test.number}</span>
        </button>
        <button type="button" class="quiet" onClick={look}>
          History<span class="unseen"> of test {test.number}</span>
        </button>
        {test.version > 1 && <span class="soft small">version {test.version}</span>}
        {test.picture && (
          <a class="button quiet" href={keptPicture(test.picture)} target="_blank" rel="noreferrer">
            Photograph<span class="unseen"> of test {test.number}</span>
          </a>
        )}
      </div>
    </li>
  );
}

function Past({ test, close }: { test: LoggedTest; close: () => void }) {
  useEffect(() => void lookAtTestVersions(test.id), [test.id]);
  const versions = tests.versions.value;
  return (
    <Dialog title={`History of test ${test.number}`} close={close}>
      {versions === null && <p class="soft">Fetching the versions …</p>}
      <ul class="past">
        {(versions ?? []).map((v, i) => {
          const before = versions?.[i + 1];
          return (
            <li key={v.version}>
              <p>
                <strong>Version {v.version}</strong> <span class="soft small">{day(v.recorded)}</span>
              </p>
              <p>{seen(v)}</p>
              {before && (
                <ul>
                  {changes(v, before).map((line) => (
                    <li key={line}>{line}</li>
                  ))}
                </ul>
              )}
            </li>
          );
        })}
      </ul>
    </Dialog>
  );
}

function changes(now: JointTest, before: JointTest): string[] {
  const found = tests.changes(now, before);
  return found.length > 0 ? found : ["nothing was changed"];
}
