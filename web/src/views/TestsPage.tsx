// The test log: a break is entered, then what the log says, then every test with its history.

import { useEffect, useRef } from "preact/hooks";
import { lookAtTests, takeTable } from "../actions/tests";
import { testLogAddress } from "../api/client";
import { whenBack } from "../state/connection";
import * as tests from "../state/tests";
import { Head } from "./Head";
import { Problems } from "./Problems";
import { TestEntry } from "./TestEntry";
import { TestList } from "./TestList";
import { TestReport } from "./TestReport";

export function TestsPage() {
  useEffect(() => {
    document.title = "Test log · Longgrain";
    void lookAtTests();
    return whenBack(() => {
      if (!tests.log.value) void lookAtTests();
    });
  }, []);
  const log = tests.log.value;
  return (
    <>
      <Head here="tests" />
      <main class="tests-page">
        <h1>Test log</h1>
        <p>
          Make a joint as you make it for a piece, break it in a rig, and note what it bore. What you note
          here shifts the strengths that every piece is planned with. Stand clear of the rig, and wear eye
          protection: joints break suddenly.
        </p>
        <p>
          <a href="/joints">Compare joints, with your own tests laid over</a>
        </p>
        {log === null || tests.form.value === null ? (
          <p class="soft">Fetching the log …</p>
        ) : (
          <>
            <TestEntry />
            <TestReport />
            <TestList />
            <Table />
          </>
        )}
      </main>
    </>
  );
}

function Table() {
  const file = useRef<HTMLInputElement>(null);
  const found = tests.tableProblems.value;
  return (
    <section class="sheet grid" aria-labelledby="table-title">
      <h2 id="table-title">As a table</h2>
      <p>
        A CSV file with a row for each test. Every length and load carries its unit, in any mix. A table with
        a problem is not taken in at all, so that it can be mended and taken in again.
      </p>
      <div class="row">
        <button type="button" class="quiet" onClick={() => file.current?.click()}>
          Take in a table
        </button>
        <a class="button quiet" href={testLogAddress} download>
          Save the log as a table
        </a>
        <input
          ref={file}
          type="file"
          class="unseen"
          tabIndex={-1}
          aria-label="Table of tests"
          accept=".csv,.txt,text/csv"
          onChange={(event) => {
            const picked = event.currentTarget.files?.[0];
            if (picked) void takeTable(picked);
            event.currentTarget.value = "";
          }}
        />
      </div>
      {found && (
        <>
          <Problems title="Nothing of this table was taken in" problems={found.problems} />
          {found.more > 0 && <p class="soft">And {found.more} more problems of the same kind.</p>}
        </>
      )}
    </section>
  );
}
