// The map by itself, for tests: shown with what they give it, and moved as by hand.
import { place, ranks } from "./labels";
import { SiteMap } from "./map";

Object.assign(window, { place, ranks, site: new SiteMap(document.querySelector(".map")!, () => {}) });
