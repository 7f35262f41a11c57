// Preact, its hooks and what TSX compiles to, as one module: two copies of
// Preact would not know of each other's hooks.
export * from "preact";
export * from "preact/hooks";
export { jsx, jsxs, jsxDEV } from "preact/jsx-runtime";
