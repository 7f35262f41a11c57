// Sentences of which a part stands out. The table of messages knows no markup: a
// gap that stands out is marked by two characters that nobody types.

const [from, to] = ["\u0002", "\u0003"];

/** Marks a part of a sentence that is to stand out. */
export const bold = (part: string) => from + part + to;

/** Shows a sentence with what was marked in it. */
export const Said = ({ text }: { text: string }) => <>{text.split(/[\u0002\u0003]/).map((s, i) => (i % 2 ? <b key={i}>{s}</b> : s))}</>;
