// The library's public door: everything below src/core that others may rely on, nothing else.
export * from "./age.ts";
export * from "./chance.ts";
export * from "./counts.ts";
export * from "./day.ts";
export * from "./due.ts";
export * from "./errors.ts";
export * from "./fit.ts";
export * from "./life.ts";
export * from "./survive.ts";
export * from "./usage.ts";
export * from "./workday.ts";
