// Looks as random as the catalogue allows, the same ones in every run.

/** Random numbers 0 ... 1 from a seed (the generator "mulberry32" by Tommy Ettinger, public domain; from memory). */
export function randomNumbers(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Every setting of a look: stage, step, and a control or what stands for `on` and `amount`. */
export function settingsOf(catalogue) {
  return catalogue.stages
    .filter(({ id }) => id !== "intake" && id !== "screen")
    .flatMap((stage) =>
      stage.steps.flatMap((step) => [
        { stage: stage.id, step: step.id, control: { id: "on", kind: "switch", default: step.on } },
        { stage: stage.id, step: step.id, control: { id: "amount", kind: "number", ...catalogue.amount, step: 0.01, whole: false } },
        ...step.controls.map((control) => ({ stage: stage.id, step: step.id, control })),
      ]),
    );
}

/** A value that the control takes, on its grid. */
export function randomValue(control, random) {
  switch (control.kind) {
    case "number": {
      const value = control.min + random() * (control.max - control.min);
      const digits = control.whole ? 0 : Math.max(0, -Math.floor(Math.log10(control.step)));
      return Math.min(control.max, Math.max(control.min, Number(value.toFixed(digits))));
    }
    case "switch":
      return random() < 0.5;
    case "choice":
      return control.options[Math.floor(random() * control.options.length)].id;
    case "curve": {
      const count = Math.floor(random() * 6);
      if (count < 2) return [];
      return Array.from({ length: count }, (_, i) => [Number(((i + 0.8 * random()) / count).toFixed(3)), Number(random().toFixed(3))]);
    }
  }
}

/** The look with some of its settings replaced. */
export function changed(catalogue, look, share, random) {
  const next = structuredClone(look);
  for (const { stage, step, control } of settingsOf(catalogue)) {
    if (random() < share) set(next, stage, step, control, randomValue(control, random));
  }
  return next;
}

/** Sets a value, or leaves it out where it is the default. */
export function set(look, stage, step, control, value) {
  const settings = ((look[stage] ??= {})[step] ??= {});
  if (JSON.stringify(value) === JSON.stringify(control.default)) delete settings[control.id];
  else settings[control.id] = value;
  if (Object.keys(settings).length === 0) delete look[stage][step];
  if (Object.keys(look[stage]).length === 0) delete look[stage];
}

export const valueIn = (look, { stage, step, control }) => look[stage]?.[step]?.[control.id] ?? control.default;
