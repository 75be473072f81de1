"use strict";
(() => {
  const $ = (id) => document.getElementById(id);
  const cards = [...document.querySelectorAll(".card")];
  const about = document.body.dataset;
  const key = `longgrain.carried.${about.key}`;
  let state = { events: [], steps: {}, timers: [], at: 0 };
  let keeps = true;
  try {
    const found = JSON.parse(localStorage.getItem(key) || "null");
    if (found && Array.isArray(found.events)) state = Object.assign(state, found);
  } catch {
    keeps = false;
  }
  const keep = () => {
    try {
      localStorage.setItem(key, JSON.stringify(state));
    } catch {
      keeps = false;
    }
    $("keeps").hidden = keeps;
  };

  const tasksOf = (card) => JSON.parse(card.dataset.tasks);
  const stateOf = (card) => {
    const ids = tasksOf(card).map((t) => t.id);
    let now = card.dataset.state;
    for (const e of state.events) {
      if (!ids.includes(e.task)) continue;
      if (e.action === "start") now = "running";
      else if (e.action === "stop" && now === "running") now = "started";
      else if (e.action === "done") now = "done";
      else if (e.action === "undo") now = "open";
    }
    return now;
  };
  const two = (n) => String(n).padStart(2, "0");
  const clock = () => {
    const d = new Date();
    return `${d.getFullYear()}-${two(d.getMonth() + 1)}-${two(d.getDate())}T${two(d.getHours())}:${two(d.getMinutes())}`;
  };
  const name = () => [...crypto.getRandomValues(new Uint8Array(12))].map((b) => b.toString(16).padStart(2, "0")).join("");
  const note = (action, words) => {
    for (const t of tasksOf(cards[state.at])) {
      const e = { id: name(), task: t.id, name: t.name, action, at: clock() };
      if (words) e.note = words;
      state.events.push(e);
    }
    keep();
    draw();
  };

  const draw = () => {
    state.at = Math.min(Math.max(0, state.at), cards.length - 1);
    cards.forEach((c, k) => {
      c.hidden = k !== state.at;
    });
    const card = cards[state.at];
    const now = stateOf(card);
    const done = cards.filter((c) => stateOf(c) === "done").length;
    $("count").textContent = `${done} of ${cards.length} done`;
    $("state").textContent = { done: "Done", running: "Under way", started: "Begun" }[now] || "";
    $("done").textContent = now === "done" ? "Not done" : "Done";
    $("done").className = now === "done" ? "" : "strong";
    $("start").textContent = now === "running" ? "Stop" : now === "started" ? "Go on" : "Start";
    $("start").disabled = now === "done";
    $("back").disabled = state.at === 0;
    $("next").disabled = state.at === cards.length - 1;
    const ids = tasksOf(card).map((t) => t.id);
    const notes = state.events.filter((e) => e.action === "note" && ids.includes(e.task)).map((e) => e.note);
    $("noted").textContent = notes.length > 0 ? `Noted: ${notes.join("; ")}` : "";
  };
  const go = (k) => {
    state.at = k;
    keep();
    draw();
    $("writing").hidden = true;
    scrollTo(0, 0);
    cards[state.at].querySelector("h1").focus({ preventScroll: true });
  };

  let sound;
  let beeping;
  const beep = () => {
    const pressed = !navigator.userActivation || navigator.userActivation.hasBeenActive;
    if (pressed && navigator.vibrate) navigator.vibrate([350, 150, 350]);
    if (!sound || sound.state !== "running") return;
    const tone = sound.createOscillator();
    tone.frequency.value = 880;
    tone.connect(sound.destination);
    tone.start();
    tone.stop(sound.currentTime + 0.35);
  };
  const ring = (on) => {
    if (on && !beeping) beeping = setInterval(beep, 1500);
    if (!on) {
      clearInterval(beeping);
      beeping = undefined;
    }
  };
  const rest = (ms) => {
    const s = Math.max(0, Math.ceil(ms / 1000));
    return `${Math.floor(s / 3600)}:${two(Math.floor(s / 60) % 60)}:${two(s % 60)}`;
  };
  let told = "";
  const times = () => {
    const now = Date.now();
    const over = state.timers.filter((t) => t.ends <= now);
    const line = (t, kind, words) => {
      const p = document.createElement("div");
      p.className = kind;
      const text = document.createElement("span");
      const strong = document.createElement("strong");
      strong.textContent = words;
      text.append(strong, ` ${t.name}`);
      const stop = document.createElement("button");
      stop.type = "button";
      stop.textContent = kind === "alarm" ? "Quiet" : "Stop";
      stop.addEventListener("click", () => {
        state.timers = state.timers.filter((x) => x.id !== t.id);
        keep();
        times();
      });
      p.append(text, stop);
      return p;
    };
    const rung = over.map((t) => t.id).join();
    if (rung !== told) {
      told = rung;
      $("alarms").replaceChildren(...over.map((t) => line(t, "alarm", t.ring)));
    }
    $("runs").replaceChildren(...state.timers.filter((t) => t.ends > now).map((t) => line(t, "runs", rest(t.ends - now))));
    ring(over.length > 0);
  };

  document.addEventListener("click", (event) => {
    const timer = event.target.closest("[data-minutes]");
    if (!timer) return;
    try {
      sound = sound || new AudioContext();
      void sound.resume();
    } catch {
      // A browser without sound: the alarm is seen.
    }
    const id = timer.dataset.timer;
    state.timers = state.timers.filter((t) => t.id !== id);
    state.timers.push({ id, name: timer.dataset.name, ring: timer.dataset.ring, ends: Date.now() + timer.dataset.minutes * 60000 });
    keep();
    times();
  });
  document.addEventListener("change", (event) => {
    const step = event.target.dataset?.step;
    if (!step) return;
    state.steps[step] = event.target.checked;
    keep();
  });
  document.addEventListener("click", (event) => {
    const larger = event.target.closest("[data-larger]");
    if (!larger) return;
    const large = larger.closest("figure").classList.toggle("large");
    larger.setAttribute("aria-pressed", String(large));
  });
  for (const box of document.querySelectorAll("[data-step]")) box.checked = state.steps[box.dataset.step] === true;
  $("back").addEventListener("click", () => go(state.at - 1));
  $("next").addEventListener("click", () => go(state.at + 1));
  $("start").addEventListener("click", () => note(stateOf(cards[state.at]) === "running" ? "stop" : "start"));
  $("done").addEventListener("click", () => {
    if (stateOf(cards[state.at]) === "done") return note("undo");
    note("done");
    const k = cards.findIndex((c, i) => i > state.at && stateOf(c) !== "done");
    if (k >= 0) go(k);
  });
  $("write").addEventListener("click", () => {
    $("writing").hidden = !$("writing").hidden;
    if (!$("writing").hidden) $("words").focus();
  });
  $("writing").addEventListener("submit", (event) => {
    event.preventDefault();
    const words = $("words").value.trim();
    if (words) note("note", words);
    $("words").value = "";
    $("writing").hidden = true;
  });
  $("copy").addEventListener("click", async () => {
    const text = JSON.stringify({ ticks: 1, piece: about.piece, events: state.events });
    $("ticks").value = text;
    $("taken").hidden = false;
    $("ticks").select();
    let copied = false;
    try {
      await navigator.clipboard.writeText(text);
      copied = true;
    } catch {
      copied = document.execCommand("copy");
    }
    $("copied").textContent = copied
      ? `${state.events.length} entries are copied. On the page of the cards press All cards, then Bring ticks back.`
      : "Copy this text, and on the page of the cards press All cards, then Bring ticks back.";
  });
  addEventListener("keydown", (event) => {
    if (event.target.closest("input[type=text], textarea, .large") || event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.key === "ArrowRight") go(state.at + 1);
    if (event.key === "ArrowLeft") go(state.at - 1);
  });
  let from = null;
  addEventListener("touchstart", (event) => {
    from = event.touches.length === 1 && !event.target.closest(".large") ? event.touches[0] : null;
  });
  addEventListener("touchend", (event) => {
    const to = event.changedTouches[0];
    if (!from || !to) return;
    const [dx, dy] = [to.clientX - from.clientX, to.clientY - from.clientY];
    from = null;
    if (Math.abs(dx) >= 60 && Math.abs(dx) > 2 * Math.abs(dy)) go(state.at + (dx < 0 ? 1 : -1));
  });

  for (const e of document.querySelectorAll(".live")) e.hidden = false;
  $("keeps").hidden = keeps;
  if (state.events.length === 0 && state.at === 0) state.at = Math.max(0, cards.findIndex((c) => stateOf(c) !== "done"));
  draw();
  times();
  setInterval(times, 1000);
})();
