import { execFileSync, spawnSync } from "node:child_process";
import {
  appendFileSync,
  chmodSync,
  copyFileSync,
  existsSync,
  linkSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from "node:fs";
import { createServer } from "node:net";
import { hostname, tmpdir } from "node:os";
import { basename, join } from "node:path";
import process from "node:process";
import { crc32 } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { MOST_COPIES } from "../../src/cli/copies.ts";
import { locked } from "../../src/cli/lock.ts";
import { workbook } from "../reference/workbooks/full-plan.ts";
import { type Said, sparespan } from "./session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-files-"));
const JULY = ["--report-date", "2026-07-06"];
let bytes = new Uint8Array();
let count = 0;

beforeAll(async () => {
  await sparespan("demo", folder);
  bytes = readFileSync(join(folder, "velloran-20260706-clean.xlsx"));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** A folder of its own with a book in it. */
function place(name = "book.xlsx"): { at: (...names: string[]) => string; book: string } {
  const home = join(folder, `place-${String((count += 1))}`);
  mkdirSync(home);
  const at = (...names: string[]): string => join(home, ...names);
  writeFileSync(at(name), bytes);
  return { at, book: at(name) };
}

/** What a command said: of its messages only the reason why it did not run. */
async function run(...args: string[]): Promise<Said> {
  const said = await sparespan(...args);
  return said.code === 2 ? { ...said, err: /^sparespan: .*\n/m.exec(said.err)?.[0] ?? "" } : said;
}

const columns = (book: string, ...more: string[]): Promise<Said> =>
  run("columns", book, "--in-place", ...JULY, ...more);
const log = (book: string, part: string, ...more: string[]): Promise<Said> =>
  run(
    ...[
      "log",
      book,
      "--device",
      "VR-104",
      "--part",
      part,
      "--job",
      "inspected",
      "--finding",
      "clean",
    ],
    ...["--by", "LS1", "--in-place", ...JULY, ...more],
  );
const sum = (content: Uint8Array): string => crc32(content).toString(16).padStart(8, "0");
const copies = (at: (...names: string[]) => string): string[] =>
  readdirSync(at()).filter((name) => name.includes(" before "));
const isRoot = process.getuid?.() === 0;

describe("the dated copy", () => {
  it("is kept once a day and command, whole and with its checksum in its name", async () => {
    const { at, book } = place();
    const first = await columns(book);
    const copy = at(`book before columns 2026-07-06 ${sum(bytes)}.xlsx`);
    expect(first).toMatchObject({ code: 0 });
    expect(first.out).toContain(`The book as it was: ${copy}`);
    expect(readFileSync(copy).equals(bytes)).toBe(true);
    const between = readFileSync(book);
    expect((await log(book, "CUSHION")).out).toContain("The book as it was:");
    const second = await log(book, "SET");
    const kept = at(`book before log 2026-07-06 ${sum(between)}.xlsx`);
    expect(second.out).toContain(`The book before today's first log: ${kept}`);
    expect(
      copies(at)
        .map((name) => at(name))
        .sort(),
    ).toEqual([copy, kept].sort());
    expect(readdirSync(at()).filter((name) => name.startsWith("."))).toEqual([]);
  });

  it("stays a limited number, and no file goes that is not surely ours", async () => {
    const { at, book } = place();
    const named = (day: number, content: string): string => {
      const date = `2026-0${String(1 + Math.floor(day / 28))}-${String(1 + (day % 28)).padStart(2, "0")}`;
      const path = at(`book before log ${date} ${sum(Buffer.from(content))}.xlsx`);
      writeFileSync(path, content);
      return path;
    };
    const ours = Array.from({ length: MOST_COPIES + 3 }, (_, day) =>
      named(day, `copy ${String(day)}`),
    );
    appendFileSync(ours[1] ?? "", " and what somebody wrote into it");
    const others = [
      "book before lunch.xlsx",
      "book before log 2026-01-01.xlsx",
      "book before 2026-01-01 101500.xlsx",
    ];
    for (const name of others) writeFileSync(at(name), "somebody's");
    expect((await columns(book)).code).toBe(0);
    const left = new Set(readdirSync(at()));
    for (const name of others) expect(left).toContain(name);
    // The oldest are over the limit by four with the one just made; the changed one is nobody's to remove.
    const gone = ours.filter((path) => !left.has(basename(path)));
    expect(gone).toEqual([ours[0], ours[2], ours[3]]);
  });

  it("whose name is taken is named, not the book, and nothing is changed", async () => {
    const { at, book } = place();
    const copy = at(`book before columns 2026-07-06 ${sum(bytes)}.xlsx`);
    writeFileSync(copy, "somebody's");
    const { code, err } = await columns(book);
    expect({ code, err }).toEqual({
      code: 2,
      err: `sparespan: ${copy} is in the way of a copy of the book as it is: move it elsewhere; nothing was changed\n`,
    });
    expect(readFileSync(book).equals(bytes)).toBe(true);
    expect(readdirSync(at()).length).toBe(2);
  });

  it("leaves no trace of a run that was killed", async () => {
    const { at, book } = place();
    const rest = [".book.xlsx.4242.sparespan-new", ".book.xlsx.4242.sparespan-copy"];
    const others = [".book.xlsx.mine.sparespan-new", ".other.xlsx.4242.sparespan-new"];
    for (const name of [...rest, ...others]) writeFileSync(at(name), "half");
    expect((await columns(book)).code).toBe(0);
    expect(
      readdirSync(at())
        .filter((name) => name.startsWith("."))
        .sort(),
    ).toEqual(others.sort());
  });
});

describe("the lock beside a book", () => {
  const lockOf = (at: (...names: string[]) => string): string => at(".book.xlsx.sparespan-lock");

  it("of a run at work keeps another from writing, whatever is forced", async () => {
    const { at, book } = place();
    let held = "";
    locked(book, () => {
      held = readFileSync(lockOf(at), "utf8");
    });
    expect(existsSync(lockOf(at))).toBe(false);
    writeFileSync(lockOf(at), held);
    for (const force of [[], ["--force"]]) {
      const { code, err } = await columns(book, ...force);
      expect({ code, err }).toEqual({
        code: 2,
        err: `sparespan: ${book} is being written by another run of sparespan: run the command again; if none is at work, remove .book.xlsx.sparespan-lock beside it first\n`,
      });
    }
    expect(readFileSync(book).equals(bytes)).toBe(true);
    expect(readFileSync(lockOf(at), "utf8")).toBe(held);
  });

  it("of a run that is dead is cleared away, one of another machine is not", async () => {
    const { at, book } = place();
    let own = "";
    locked(book, () => {
      own = readFileSync(lockOf(at), "utf8");
    });
    const [, birth = "", home = ""] = own.split("\n");
    expect(home).toContain(hostname());
    const { pid } = spawnSync(process.execPath, ["-e", ""]);
    writeFileSync(lockOf(at), [pid, birth, `elsewhere ${home}`].join("\n"));
    expect((await columns(book)).code).toBe(2);
    writeFileSync(lockOf(at), [pid, birth, home].join("\n"));
    expect((await columns(book)).code).toBe(0);
    expect(readdirSync(at()).filter((name) => name.startsWith("."))).toEqual([]);
  });

  it("of a dead run whose number another process has now is cleared away", async ({ skip }) => {
    if (process.platform !== "linux") skip("only Linux tells when a process began");
    const { at, book } = place();
    let own = "";
    locked(book, () => {
      own = readFileSync(lockOf(at), "utf8");
    });
    const [, , home = ""] = own.split("\n");
    writeFileSync(lockOf(at), [process.pid, "1", home].join("\n"));
    expect((await columns(book)).code).toBe(0);
  });

  it("is held by one of two that find the same dead one", async () => {
    const { at, book } = place();
    writeFileSync(lockOf(at), "");
    writeFileSync(`${lockOf(at)}-clearing`, "");
    expect((await columns(book)).code).toBe(2);
    expect(existsSync(lockOf(at))).toBe(true);
  });
});

describe("links", () => {
  it("are followed: the file a link leads to is changed, and its copy lies beside it", async () => {
    const { at, book } = place();
    mkdirSync(at("desk"));
    const link = at("desk", "mine.xlsx");
    symlinkSync(book, link);
    expect((await columns(link)).code).toBe(0);
    expect(lstatSync(link).isSymbolicLink()).toBe(true);
    expect(readFileSync(book).equals(bytes)).toBe(false);
    expect(copies(at)).toEqual([`book before columns 2026-07-06 ${sum(bytes)}.xlsx`]);
    expect(readdirSync(at("desk"))).toEqual(["mine.xlsx"]);
  });

  it.each(["book.xlsx", "desk/mine.xlsx"])("a program's mark beside %s is seen", async (marked) => {
    const { at, book } = place();
    mkdirSync(at("desk"));
    const link = at("desk", "mine.xlsx");
    symlinkSync(book, link);
    const [name = "", way = ""] = marked.split("/").reverse();
    writeFileSync(at(way, `~$${name}`), "somebody");
    expect((await columns(link)).err).toContain(`(~$${name} lies beside it)`);
    expect(readFileSync(book).equals(bytes)).toBe(true);
  });

  it("that lead to the workbook are the workbook: -o is refused", async () => {
    const { at, book } = place();
    symlinkSync(at(), at("way"));
    symlinkSync(book, at("link.xlsx"));
    linkSync(book, at("hard.xlsx"));
    for (const out of [at("way", "book.xlsx"), at("link.xlsx"), at("hard.xlsx")]) {
      for (const job of [["columns"], ["share", "copy"]]) {
        const { code, err } = await run(...job, book, "-o", out, "--force", ...JULY);
        expect({ code, err }).toMatchObject({ code: 2 });
        expect(err).toContain("-o names the workbook itself");
      }
    }
    expect(readFileSync(book).equals(bytes)).toBe(true);
  });

  it("to nowhere and in a circle are told", async () => {
    const { at, book } = place();
    symlinkSync(at("gone.xlsx"), at("dead.xlsx"));
    symlinkSync(at("round.xlsx"), at("round.xlsx"));
    const dead = await run("columns", book, "-o", at("dead.xlsx"), ...JULY);
    expect(dead.err).toBe(`sparespan: ${at("dead.xlsx")} is a link to a file that is not there\n`);
    expect((await run("today", at("round.xlsx"))).err).toBe(
      `sparespan: ${at("round.xlsx")} is a link that leads back to itself\n`,
    );
  });
});

describe("protections", () => {
  it("of a file that is changed in place are kept, and its copy has them too", async ({ skip }) => {
    if (process.platform === "win32") skip("there are no such modes here");
    const { at, book } = place();
    chmodSync(book, 0o600);
    expect((await columns(book)).code).toBe(0);
    const [copy = ""] = copies(at);
    expect([book, at(copy)].map((path) => statSync(path).mode & 0o777)).toEqual([0o600, 0o600]);
    const out = at("out.xlsx");
    writeFileSync(out, "");
    chmodSync(out, 0o640);
    expect((await run("columns", book, "-o", out, "--force", ...JULY)).code).toBe(0);
    expect(statSync(out).mode & 0o777).toBe(0o640);
  });

  it("keep the owner where that may be done", async ({ skip }) => {
    if (!isRoot) skip("only the superuser gives files away");
    const { at, book } = place();
    execFileSync("chown", ["65534:65533", book]);
    expect((await columns(book)).code).toBe(0);
    for (const path of [book, at(copies(at)[0] ?? "")]) {
      expect([statSync(path).uid, statSync(path).gid]).toEqual([65534, 65533]);
    }
  });

  it("keep extended attributes and the access list", async ({ skip }) => {
    const { book } = place();
    const python = (code: string): string =>
      spawnSync("python3", ["-c", `import os,sys\n${code}`, book], {
        encoding: "utf8",
      }).stdout;
    const set = 'os.setxattr(sys.argv[1], "user.origin", b"ward 3"); print("set")';
    if (process.platform !== "linux" || python(set) !== "set") skip("no extended attributes here");
    expect((await columns(book)).code).toBe(0);
    expect(python('print(os.getxattr(sys.argv[1], "user.origin").decode())')).toBe("ward 3");
  });

  it("of a read-only file hold until --force, which keeps them", async ({ skip }) => {
    if (process.platform === "win32") skip("there are no such modes here");
    const { book } = place();
    chmodSync(book, 0o444);
    expect(await columns(book)).toMatchObject({
      code: 2,
      err: `sparespan: ${book} is write-protected: make it writable first, or give --force\n`,
    });
    expect(readFileSync(book).equals(bytes)).toBe(true);
    expect((await columns(book, "--force")).code).toBe(0);
    expect(readFileSync(book).equals(bytes)).toBe(false);
    expect(statSync(book).mode & 0o777).toBe(0o444);
  });
});

describe("what is no ordinary file", () => {
  it("is never written over, with --force neither", async ({ skip }) => {
    if (process.platform === "win32") skip("there are no such files here");
    const { at, book } = place();
    const kinds: [string, string][] = [
      [at("pipe.xlsx"), "a pipe"],
      [at("folder.xlsx"), "a folder"],
      [at("socket.xlsx"), "a socket"],
    ];
    execFileSync("mkfifo", [at("pipe.xlsx")]);
    mkdirSync(at("folder.xlsx"));
    const server = createServer().listen(at("socket.xlsx"));
    if (isRoot && spawnSync("mknod", [at("device.xlsx"), "c", "1", "3"]).status === 0) {
      kinds.push([at("device.xlsx"), "a device"]);
    }
    const before = kinds.map(([path]) => lstatSync(path).mode);
    for (const [path, kind] of kinds) {
      const { code, err } = await run("columns", book, "-o", path, "--force", ...JULY);
      const sentence = `sparespan: ${path} is ${kind}, no ordinary file\n`;
      expect({ code, err }).toEqual({ code: 2, err: sentence });
      // As input it is refused before it is opened: a pipe would keep us waiting for ever.
      expect(await run("today", path)).toMatchObject({ code: 2, err: sentence });
    }
    expect(kinds.map(([path]) => lstatSync(path).mode)).toEqual(before);
    server.close();
  });

  it("nor is a file too large read first, or one with too long a name", async () => {
    const { at, book } = place();
    writeFileSync(at("huge.xlsx"), "");
    truncateSync(at("huge.xlsx"), 3 * 2 ** 30);
    const before = process.memoryUsage.rss();
    expect(await run("today", at("huge.xlsx"))).toMatchObject({
      code: 2,
      err: "sparespan: This file is too large to be opened safely: split it into smaller workbooks.\n",
    });
    expect(process.memoryUsage.rss() - before).toBeLessThan(64 << 20);
    const long = at(`${"n".repeat(245)}.xlsx`);
    copyFileSync(book, long);
    for (const path of [long, at(`${"n".repeat(300)}.xlsx`)]) {
      const { code, err } = await columns(path);
      expect(code).toBe(2);
      expect(err).toBe(
        `sparespan: ${path} has too long a name: give it a shorter one, with room for the copies kept beside it\n`,
      );
    }
    expect(readFileSync(long).equals(bytes)).toBe(true);
  });
});

describe("the ending", () => {
  it("is the one the content asks for", async () => {
    const { at } = place();
    writeFileSync(at("macros.xlsm"), workbook("macros.xlsm"));
    writeFileSync(at("misnamed.xlsx"), workbook("macros.xlsm"));
    writeFileSync(at("plain.xlsm"), bytes);
    const MADE = "must end in .xlsm: the workbook is made for macros";
    const PLAIN = "must end in .xlsx: the workbook has no macros";
    const to = (input: string, output: string): string[] => [at(input), "-o", at(output)];
    for (const [args, path, told] of [
      [to("macros.xlsm", "out.xlsx"), "out.xlsx", MADE],
      [to("macros.xlsm", "out.bak"), "out.bak", MADE],
      [to("book.xlsx", "out.xlsm"), "out.xlsm", PLAIN],
      [to("book.xlsx", "out"), "out", PLAIN],
      [[at("misnamed.xlsx"), "--in-place"], "misnamed.xlsx", MADE],
      [[at("plain.xlsm"), "--in-place"], "plain.xlsm", PLAIN],
    ] as const) {
      const { code, err } = await run("columns", ...args, ...JULY);
      expect({ code, err }).toEqual({ code: 2, err: `sparespan: ${at(path)} ${told}\n` });
    }
    expect((await run("new", at("new.xlsm"))).err).toBe(`sparespan: ${at("new.xlsm")} ${PLAIN}\n`);
    await run("columns", ...to("macros.xlsm", "out.XLSM"), ...JULY);
    expect(existsSync(at("out.XLSM"))).toBe(true);
    expect(existsSync(at("out.xlsx"))).toBe(false);
  });
});
