import { setFlagsFromString } from "node:v8";

// A command is over soon: a function must be called six times as often as usual before the engine's slow compiler
// takes it in hand. That saves a fifth of the time on usual books and costs nothing on the largest. Measured with the
// engine of Node 20; another may not know the flag, and would say so on every run.
if (process.versions.v8.startsWith("11.")) setFlagsFromString("--interrupt-budget=400000");
