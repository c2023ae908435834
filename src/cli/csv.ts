import { UsageError } from "./io.ts";

/** A record of a CSV: its cells by heading, and the line it begins on. */
export interface CsvRecord {
  readonly line: number;
  readonly cells: Readonly<Record<string, string>>;
}

const SEPARATORS = [",", ";", "\t"] as const;

/** The records of a CSV with a heading line, as RFC 4180 has it; comma, semicolon or tab, whichever the headings use. */
export function csvRecords(text: string): CsvRecord[] {
  const plain = text.replace(/^\ufeff/, "");
  const first = plain.split(/\r?\n/, 1)[0] ?? "";
  const separator = SEPARATORS.reduce((best, one) =>
    first.split(one).length > first.split(best).length ? one : best,
  );
  const [headings, ...records] = cellsOf(plain, separator);
  const names = headings?.cells.map((name) => name.trim().toLowerCase()) ?? [];
  const twice = names.find((name, at) => name !== "" && names.indexOf(name) !== at);
  if (twice !== undefined) throw new UsageError(`the heading ${twice} stands twice in the CSV`);
  return records.map(({ line, cells }) => {
    if (cells.slice(names.length).some((cell) => cell !== "")) {
      throw new UsageError(`line ${line} of the CSV has more cells than headings`);
    }
    return {
      line,
      cells: Object.fromEntries(names.map((name, at) => [name, cells[at]?.trim() ?? ""])),
    };
  });
}

/** The filled lines, cell by cell; a quoted cell may hold separators, line ends and doubled quotes. */
function cellsOf(text: string, separator: string): { line: number; cells: string[] }[] {
  const records: { line: number; cells: string[] }[] = [];
  let [cells, cell, line, begins, quoted]: [string[], string, number, number, boolean] = [
    [],
    "",
    1,
    1,
    false,
  ];
  const end = (): void => {
    cells.push(cell);
    if (cells.some((one) => one.trim() !== "")) records.push({ line: begins, cells });
    [cells, cell] = [[], ""];
  };
  for (let at = 0; at < text.length; at += 1) {
    const sign = text[at] ?? "";
    if (sign === "\n") line += 1;
    if (quoted) {
      if (sign !== '"') cell += sign;
      else if (text[at + 1] === '"') cell += text[(at += 1)] ?? "";
      else quoted = false;
    } else if (sign === '"' && cell.trim() === "") [quoted, cell] = [true, ""];
    else if (sign === separator) {
      cells.push(cell);
      cell = "";
    } else if (sign === "\n") {
      end();
      begins = line;
    } else if (sign !== "\r") cell += sign;
  }
  if (quoted)
    throw new UsageError(`a quote that begins on line ${begins} of the CSV is not closed`);
  end();
  return records;
}
