#!/usr/bin/env node
import { createInterface } from "node:readline";
import { civilDay } from "../core/day.ts";
import { run } from "./run.ts";

// A reader that has seen enough, such as head, closes the pipe: that is no failure of ours.
for (const stream of [process.stdout, process.stderr]) {
  stream.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code !== "EPIPE") throw error;
  });
}

process.exitCode = await run(process.argv.slice(2), {
  out: (text) => {
    process.stdout.write(text);
  },
  err: (text) => {
    process.stderr.write(text);
  },
  lines: () => createInterface({ input: process.stdin, crlfDelay: Infinity }),
  // The day on the wall, whatever the time zone: the only clock of the command line.
  today: () => {
    const now = new Date();
    return civilDay(now.getFullYear(), now.getMonth() + 1, now.getDate());
  },
  clock: () => performance.now(),
  stopped: () =>
    new Promise((done) => {
      for (const signal of ["SIGINT", "SIGTERM"] as const) {
        process.once(signal, () => {
          done();
        });
      }
    }),
});
