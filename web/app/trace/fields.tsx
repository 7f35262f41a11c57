// Fields of forms. A length is typed as it is written; a field says at once
// whether it can be read.

import { useEffect, useId, useLayoutEffect, useRef, useState } from "preact/hooks";
import { words } from "./language";
import { metres, shown } from "./length";

/** Text is a labelled field that reports its text on blur or when Enter is pressed. */
export function Text({ label, value, set, hint, mode, wide, area }: {
  label: string; value: string; set: (v: string) => void; hint?: string; mode?: "decimal" | "numeric"; wide?: boolean; area?: boolean;
}) {
  const [text, setText] = useState(value);
  const id = useId();
  // Immediately, not after the next frame: by then a digit may have been typed.
  useLayoutEffect(() => setText(value), [value]);
  const common = {
    id, value: text, autocomplete: "off", inputMode: mode, "aria-describedby": hint ? `${id}-hint` : undefined,
    onInput: (e: Event) => setText((e.target as HTMLInputElement).value),
    onBlur: () => text !== value && set(text.trim()),
  };
  return (
    <div class={wide ? "trace-field trace-wide" : "trace-field"}>
      <label for={id}>{label}</label>
      {area ? <textarea rows={3} {...common} />
        : <input type="text" {...common} onKeyDown={(e) => e.key === "Enter" && text !== value && set(text.trim())} />}
      {hint && <span id={`${id}-hint`} class="trace-hint">{hint}</span>}
    </div>
  );
}

/** Length is a field for a written length. */
export function Length({ label, value, set, unit, bareLabel, hear }: {
  label: string; value: string; set: (v: string) => void; unit: "ft" | "m"; bareLabel?: boolean;
  hear?: (v: string) => void; // with every key
}) {
  const [text, setText] = useState(value);
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  useLayoutEffect(() => setText(value), [value]); // immediately, as above
  const m = text.trim() === "" ? undefined : metres(text, unit);
  const bad = text.trim() !== "" && m === undefined;
  return (
    <div class="trace-field trace-length">
      <label for={id} class={bareLabel ? "trace-unseen" : undefined}>{label}</label>
      <input id={id} ref={input} type="text" inputMode="decimal" autocomplete="off" enterkeyhint="next" data-length=""
        value={text} aria-invalid={bad} aria-describedby={bad ? `${id}-bad` : undefined}
        onInput={(e) => { setText(e.currentTarget.value); hear?.(e.currentTarget.value); }}
        onBlur={() => text !== value && set(text.trim())}
        onKeyDown={(e) => {
          if (e.key !== "Enter") return;
          e.preventDefault();
          nextLength(e.currentTarget);
        }} />
      {bad && <span id={`${id}-bad`} class="trace-bad">{words.common.notLength}</span>}
    </div>
  );
}

/** nextLength goes on to the next field of a length, as Enter and the key of the phone do. */
export function nextLength(from: HTMLElement) {
  const all = [...(from.closest(".trace-panel")?.querySelectorAll<HTMLInputElement>("[data-length]") ?? [])];
  const next = all[all.indexOf(from as HTMLInputElement) + 1];
  if (next) {
    next.focus();
    next.select();
    next.scrollIntoView?.({ block: "nearest", inline: "nearest" });
  } else {
    from.blur();
  }
}

/**
 * Marks are keys for characters that a phone's number pad lacks, shown while a
 * length is typed, with what the length reads as.
 */
export function Marks({ unit }: { unit: "ft" | "m" }) {
  const bar = useRef<HTMLDivElement>(null);
  const [field, setField] = useState<HTMLInputElement>();
  const [text, setText] = useState("");
  useEffect(() => {
    const panel = bar.current!.closest(".trace-panel")!;
    const isLength = (e: Event) => (e.target as HTMLElement).matches?.("[data-length]");
    const into = (e: Event) => { if (isLength(e)) { setField(e.target as HTMLInputElement); setText((e.target as HTMLInputElement).value); } };
    const out = (e: Event) => { if (isLength(e)) setField(undefined); };
    panel.addEventListener("focusin", into);
    panel.addEventListener("input", into);
    panel.addEventListener("focusout", out);
    return () => {
      panel.removeEventListener("focusin", into);
      panel.removeEventListener("input", into);
      panel.removeEventListener("focusout", out);
    };
  }, []);
  const put = (mark: string) => {
    if (!field) return;
    field.setRangeText(mark, field.selectionStart ?? field.value.length, field.selectionEnd ?? field.value.length, "end");
    field.dispatchEvent(new Event("input", { bubbles: true }));
  };
  const m = metres(text, unit);
  const keys = unit === "ft" ? ["'", '"', " 1/2"] : [".", " m", " cm"];
  return (
    <div ref={bar} class={field ? "trace-marks" : "trace-marks trace-away"} onPointerDown={(e) => e.preventDefault()}>
      {keys.map((k) => <button type="button" tabIndex={-1} key={k} aria-label={words.common.marks[k]} onClick={() => put(k)}>{k.trim() === "1/2" ? "½" : k.trim()}</button>)}
      <output class="trace-reads">{text.trim() === "" ? "" : m === undefined ? words.common.notLengthYet : words.common.reads(shown(m, unit))}</output>
      <button type="button" tabIndex={-1} onClick={() => field && nextLength(field)}>{words.common.next}</button>
    </div>
  );
}

/** Choice is a labelled list to choose from. */
export function Choice({ label, value, set, options }: { label: string; value: string; set: (v: string) => void; options: readonly (readonly [string, string])[] }) {
  const id = useId();
  return (
    <div class="trace-field">
      <label for={id}>{label}</label>
      <select id={id} value={value} onChange={(e) => set(e.currentTarget.value)}>
        {options.map(([v, says]) => <option key={v} value={v} selected={v === value}>{says}</option>)}
      </select>
    </div>
  );
}
