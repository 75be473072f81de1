// The sound of an alarm, and the shaking of a phone that can shake.

import { signal } from "@preact/signals";

/** True while an alarm should be heard and the browser does not let it: it wants a press first. */
export const silent = signal(false);

let sound: AudioContext | undefined;
let repeating: ReturnType<typeof setInterval> | undefined;

/** A beep lasts so long, and begins again after so long, ms. */
const BEEP = 350;
const AGAIN = 1600;

/** Gets ready to sound. Call it from a press of a button. */
export function wake(): void {
  try {
    sound ??= new AudioContext();
    void sound.resume().then(() => {
      silent.value = false;
    });
  } catch {
    // A browser without sound; the alarm is seen and felt.
  }
}

/** Sounds until hush is called. */
export function ring(): void {
  if (repeating) return;
  beep();
  repeating = setInterval(beep, AGAIN);
}

export function hush(): void {
  clearInterval(repeating);
  repeating = undefined;
  silent.value = false;
  if (navigator.userActivation?.hasBeenActive ?? true) navigator.vibrate?.(0);
}

function beep(): void {
  // Without a press since the page was loaded a browser neither sounds nor shakes.
  const pressed = navigator.userActivation?.hasBeenActive ?? true;
  if (pressed) navigator.vibrate?.([BEEP, 150, BEEP]);
  if (sound?.state !== "running") {
    silent.value = true;
    if (pressed) wake();
    return;
  }
  silent.value = false;
  for (const [at, pitch] of [
    [0, 880],
    [0.4, 660],
  ] as const) {
    const tone = sound.createOscillator();
    const loud = sound.createGain();
    const from = sound.currentTime + at;
    tone.frequency.value = pitch;
    loud.gain.setValueAtTime(0.4, from);
    loud.gain.setTargetAtTime(0, from + BEEP / 1000 - 0.05, 0.02);
    tone.connect(loud).connect(sound.destination);
    tone.start(from);
    tone.stop(from + BEEP / 1000);
  }
}
