#!/usr/bin/env node
import { createInterface } from "node:readline";
import { civilDay } from "../core/day.ts";
import { run } from "./run.ts";

const two = (number: number): string => String(number).padStart(2, "0");

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
  stamp: () => {
    const now = new Date();
    const date = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
    return `${date} ${two(now.getHours())}${two(now.getMinutes())}${two(now.getSeconds())}`;
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
