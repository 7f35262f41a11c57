// The few controls that all forms are made of: large, labelled, for any input
// device.
import { useId } from "preact/hooks";
import type { ComponentChildren } from "preact";
import { words } from "./language";

/** One of several, as large keys in a row. */
export function Choice<T extends string>({ label, value, options, onChange }: {
  label: string;
  value: T;
  options: [T, string][];
  onChange: (v: T) => void;
}) {
  return (
    <fieldset class="choice">
      <legend>{label}</legend>
      <div class="options">
        {options.map(([v, says]) => (
          <button type="button" key={v} class="option" aria-pressed={v === value} onClick={() => onChange(v)}>
            {says}
          </button>
        ))}
      </div>
    </fieldset>
  );
}

/** One of many, from a list. */
export function Pick({ label, value, options, onChange, names = false }: {
  label: string;
  value: string;
  options: { id: string; name: string }[];
  onChange: (v: string) => void;
  /** The names are enough: ids are not shown. */
  names?: boolean;
}) {
  const id = useId();
  return (
    <p class="field">
      <label for={id}>{label}</label>
      <select id={id} value={value} onChange={(e) => onChange(e.currentTarget.value)}>
        {!options.some((o) => o.id === value) && <option value={value}>{value || words.common.choose}</option>}
        {options.map((o) => (
          <option key={o.id} value={o.id}>
            {names ? o.name : o.name && o.name !== o.id ? `${words.parts.id(o.id)}: ${o.name}` : words.parts.id(o.id)}
          </option>
        ))}
      </select>
    </p>
  );
}

/** A line or more of text. */
export function Words({ label, value, onInput, lines = 1, hint }: {
  label: string;
  value: string;
  onInput: (v: string) => void;
  lines?: number;
  hint?: string;
}) {
  const id = useId();
  return (
    <p class="field">
      <label for={id}>{label}</label>
      {lines > 1 ? (
        <textarea id={id} rows={lines} value={value} aria-describedby={hint && `${id}h`} onInput={(e) => onInput(e.currentTarget.value)} />
      ) : (
        <input id={id} value={value} aria-describedby={hint && `${id}h`} onInput={(e) => onInput(e.currentTarget.value)} />
      )}
      {hint && <small id={`${id}h`}>{hint}</small>}
    </p>
  );
}

/** A screen with a form: a heading, a way back, the form. */
export function Screen({ title, back, children }: { title: string; back: string; children: ComponentChildren }) {
  return (
    <main class="screen" id="main">
      <header class="bar">
        <a class="back" href={back} aria-label={words.common.back}>
          ←
        </a>
        <h1>{title}</h1>
      </header>
      <div class="body">{children}</div>
    </main>
  );
}
