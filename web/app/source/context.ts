// What every screen can use without being passed it: the store.
import { createContext } from "preact";
import { useContext, useEffect, useState } from "preact/hooks";
import type { Store } from "./store";

export const StoreContext = createContext<Store | null>(null);

/** The store; the component renders again whenever it changes. */
export function useStore(): Store {
  const store = useContext(StoreContext)!;
  const [, set] = useState(0);
  useEffect(() => store.watch(() => set(store.turn)), [store]);
  return store;
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
