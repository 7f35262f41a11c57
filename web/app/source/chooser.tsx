// The language of this device, chosen by hand: each by its own name, so that whoever
// speaks it finds it.
import { Choice } from "./form";
import { choose, language, languages, words } from "./language";

export const LanguageChoice = () => <Choice label={words.shell.language} value={language} options={languages} onChange={(l) => void choose(l)} />;
