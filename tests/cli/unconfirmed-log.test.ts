import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { DEVICES, DIARY, typedBook } from "../scenes/own-log-book.ts";
import { sparespan } from "./session.ts";

/** A log of the programme's own that nobody has confirmed, in the list of the day. */
const folder = mkdtempSync(join(tmpdir(), "sparespan-unconfirmed-"));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const DAY = ["--report-date", "2026-06-30"];
const book = (name: string, sheets: Parameters<typeof typedBook>[0]): string => {
  const path = join(folder, name);
  writeFileSync(path, typedBook(sheets));
  return path;
};
const about = (out: string): string[] => out.split("\n").filter((line) => /own log/.test(line));

describe("a log of the programme's own that is not confirmed", () => {
  it("is told by today in one line with what to type, which then is enough", async () => {
    const path = book("one.xlsx", { Kit: DEVICES, Diary: DIARY });
    const told = about((await sparespan("today", path, ...DAY)).out);
    expect(told).toEqual([
      `Diary may be your own log (9 lines), and no replacement in it counts yet: npx sparespan own-log "${path}" --confirm --in-place (--none if it is no log).`,
    ]);
    const { code, err } = await sparespan("own-log", path, "--confirm", "--in-place");
    expect(code, err).toBeLessThan(2);
    expect(about((await sparespan("today", path, ...DAY)).out)).toEqual([]);
  });

  it("is named in --json", async () => {
    const path = book("json.xlsx", { Kit: DEVICES, Diary: DIARY });
    const { out } = await sparespan("today", path, ...DAY, "--json");
    expect(JSON.parse(out)).toMatchObject({ unconfirmedLogs: ["Diary"] });
  });

  it("is one line for several, and keeps what is confirmed already", async () => {
    const path = book("two.xlsx", { Kit: DEVICES, Diary: DIARY, Older: DIARY });
    const first = about((await sparespan("today", path, ...DAY)).out);
    expect(first).toHaveLength(1);
    expect(first[0]).toContain("Diary and Older may be your own logs (18 lines)");
    expect(first[0]).toContain('--confirm --sheet "Diary" --in-place');
    await sparespan("own-log", path, "--confirm", "--sheet", "Diary", "--in-place");
    const second = about((await sparespan("today", path, ...DAY)).out);
    expect(second[0]).toContain("Older may be your own log (9 lines)");
    expect(second[0]).toContain('--confirm --sheet "Diary;Older" --in-place');
  });

  it("gives a shell no name from the workbook to act on", async () => {
    const path = book("signs.xlsx", { Kit: DEVICES, "$(touch x)": DIARY, Older: DIARY });
    const [line] = about((await sparespan("today", path, ...DAY)).out);
    expect(line).toContain("--confirm --sheet SHEET --in-place");
  });
});
