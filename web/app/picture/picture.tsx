// Pictures under the plan: the screen that lays one, the keys on the map, the list.
export { Lay } from "./add";
export { Under } from "./under";
export { List } from "./list";
export { speak } from "./language";
