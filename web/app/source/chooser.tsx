// The language of this device, chosen by hand: each by its own name, so that whoever
// speaks it finds it.
import { choose, language, languages, words } from "./language";

export function LanguageChoice() {
  return (
    <fieldset class="choice">
      <legend>{words.shell.language}</legend>
      <div class="options">
        {languages.map(([l, name]) => (
          <button type="button" key={l} lang={l} class="option" aria-pressed={l === language} onClick={() => void choose(l)}>
            {name}
          </button>
        ))}
      </div>
    </fieldset>
  );
}
