// The map by itself, for tests: shown with what they give it, and moved as by hand.
import { place, ranks } from "./labels";
import { SiteMap } from "./map";

const target = document.querySelector<HTMLElement>(".map")!;
const site = new SiteMap(target, () => {});
new ResizeObserver(() => site.fitSize()).observe(target);
Object.assign(window, { place, ranks, site });
