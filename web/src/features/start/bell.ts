// Rings and shakes, as far as the phone lets a page: it must be open, and have been touched before.
let context: AudioContext | undefined;

/** Called on a touch: without one no page may make a sound. */
export function wakeBell() {
  context ??= new AudioContext();
  void context.resume();
}

/** Three short tones. */
export function ring() {
  navigator.vibrate?.([400, 200, 400, 200, 400]);
  if (context?.state !== 'running') return;
  for (let i = 0; i < 3; ++i) {
    const tone = context.createOscillator();
    const loud = context.createGain();
    tone.frequency.value = 880;
    loud.gain.value = 0.25;
    tone.connect(loud).connect(context.destination);
    tone.start(context.currentTime + i * 0.6);
    tone.stop(context.currentTime + i * 0.6 + 0.4);
  }
}
