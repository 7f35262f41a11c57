// What every screen has at hand without being given it: the book.
import { createContext } from "preact";
import { useContext, useEffect, useState } from "preact/hooks";
import type { Book } from "./book";

export const BookContext = createContext<Book | null>(null);

/** The book; the component is drawn again whenever it changes. */
export function useBook(): Book {
  const book = useContext(BookContext)!;
  const [, set] = useState(0);
  useEffect(() => book.watch(() => set(book.turn)), [book]);
  return book;
}

/** Whether the window has room for table and documents beside the plan. */
export function useDesk(): boolean {
  const query = "(min-width: 900px)";
  const [desk, set] = useState(matchMedia(query).matches);
  useEffect(() => {
    const m = matchMedia(query);
    const f = () => set(m.matches);
    m.addEventListener("change", f);
    return () => m.removeEventListener("change", f);
  }, []);
  return desk;
}
