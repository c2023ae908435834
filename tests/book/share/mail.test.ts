import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ALL_CAUTIONS } from "../../../src/book/records/cautions.ts";
import { messageFile } from "../../../src/cli/mail-file.ts";
import { sparespan } from "../../cli/session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-mail-"));
const at = (...names: string[]): string => join(folder, ...names);
const BOOK = at("velloran-20260706-clean.xlsx");
const JULY = ["--report-date", "2026-07-06"];
beforeAll(async () => {
  await sparespan("demo", folder);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

interface Told {
  readonly mails: readonly {
    readonly site: string;
    readonly subject: string;
    readonly text: string;
  }[];
}

async function mails(...more: string[]): Promise<Told["mails"]> {
  const { out, err } = await sparespan("share", "mail", BOOK, ...more, "--json", ...JULY);
  expect(err).toBe("");
  return (JSON.parse(out) as Told).mails;
}

describe("share mail", () => {
  it("tells each site what today lists for it, and each device that is to be inspected", async () => {
    const { out } = await sparespan("today", BOOK, "--json", ...JULY);
    const { items } = JSON.parse(out) as {
      readonly items: readonly { device: string; site: string; part: string; state: string }[];
    };
    const told = await mails();
    expect(told.map(({ site }) => site)).toEqual([
      "S01",
      "S02",
      "S03",
      "S04",
      "S05",
      "S06",
      "S07",
      "S08",
    ]);
    const overdue = items.filter(({ state }) => state === "Overdue");
    expect(overdue).toHaveLength(2);
    for (const { site, text, subject } of told) {
      const [, here = ""] = /Replace now:\n((?:- .*\n)*)/.exec(text) ?? [];
      const mine = overdue.filter((item) => item.site === site);
      expect(here.match(/^- /gm)?.length ?? 0).toBe(mine.length);
      for (const { device, part } of mine) expect(here).toContain(`- ${device}, ${part}, due `);
      expect(subject.includes(`${mine.length} overdue`)).toBe(mine.length > 0);
      expect(ALL_CAUTIONS.filter((caution) => text.includes(caution))).toHaveLength(2);
    }
    const [fourth] = await mails("--site", "S04");
    expect(fourth?.text).toContain("- VR-123, Ear cushion, due 2026-04-22, 75 days late");
    expect(fourth?.text).toContain("- Electrode set, on 2 days: VR-122, VR-123, VR-124, VR-125");
  });

  it("says why no date can be given where a row is to be checked", async () => {
    const book = at("velloran-20260706-untidy.xlsx");
    const { out } = await sparespan("share", "mail", book, "--json", ...JULY);
    const checked = (JSON.parse(out) as Told).mails.flatMap(({ text }) => {
      const [, here = ""] = /last replaced or done:\n((?:- .*\n)*)/.exec(text) ?? [];
      return here.split("\n").filter(Boolean);
    });
    expect(checked.length).toBeGreaterThan(3);
    for (const line of checked) expect(line).toMatch(/^- .+, .+: .+/);
  });

  it("writes a file a site into a folder that is there, and over none that is", async () => {
    mkdirSync(at("mails"));
    const write = (...more: string[]) =>
      sparespan("share", "mail", BOOK, "-o", at("mails"), ...more, ...JULY);
    expect((await write()).code).toBe(0);
    expect(readdirSync(at("mails"))).toHaveLength(8);
    const text = readFileSync(at("mails", "mail s04.txt"), "utf8");
    expect(text.split("\n")[0]).toBe("Screening equipment at S04, week 2026-W28: 1 overdue");
    expect((await write()).err).toContain("already exists");
    expect((await write("--force")).code).toBe(0);
    expect((await sparespan("share", "mail", BOOK, "-o", at("none"), ...JULY)).err).toContain(
      "-o must be an existing folder",
    );
    expect((await sparespan("share", "mail", BOOK, "--in-place", ...JULY)).code).toBe(2);
  });

  it("writes messages that Python's mail library reads back letter by letter", async ({ skip }) => {
    if (spawnSync("python3", ["--version"]).error) skip("python3 is not installed");
    const subject = `Geräte in Łódź, 東京 ${"📦".repeat(20)}: 1 overdue`;
    const text = "Zażółć gęślą jaźń\n\n- one\n- two\n";
    const script =
      "import email, email.policy, json, sys\n" +
      "m = email.message_from_bytes(sys.stdin.buffer.read(), policy=email.policy.default)\n" +
      "print(json.dumps([m['subject'], m.get_content().replace('\\r\\n', '\\n'), len(m.defects)]))";
    const read = (file: string): unknown =>
      JSON.parse(execFileSync("python3", ["-c", script], { input: file, encoding: "utf8" }));
    const file = messageFile({ site: "S", subject, text });
    expect(read(file)).toEqual([subject, text, 0]);
    expect(Math.max(...file.split("\r\n").map((line) => line.length))).toBeLessThanOrEqual(78);
    const [first] = await mails("--site", "S01");
    expect(read(messageFile(first ?? { site: "", subject: "", text: "" }))).toEqual([
      first?.subject,
      first?.text,
      0,
    ]);
  });
});
