// Preact, its hooks and what TSX compiles to, as one module: two copies of
// Preact would not share their hooks.
export * from "preact";
export * from "preact/hooks";
export { jsx, jsxs, jsxDEV } from "preact/jsx-runtime";
