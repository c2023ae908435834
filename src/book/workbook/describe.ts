import type { AddColumn, Edit, Plan } from "./plan.ts";
import { address, areaText } from "./snapshot.ts";

/** A plan in words: its summary, then one line an edit, exact cells named. */
export function describePlan(plan: Plan): string[] {
  const names = plan.edits.flatMap((edit) => (edit.kind === "addName" ? [edit.name] : []));
  const others = plan.edits.filter(({ kind }) => kind !== "addName");
  const named =
    names.length === 0 ? [] : [`add ${names.length} names (${names[0]} … ${names.at(-1)})`];
  return [plan.summary, ...others.map(describeEdit), ...named];
}

function describeEdit(edit: Edit): string {
  switch (edit.kind) {
    case "addColumn":
      return describeColumn(edit);
    case "fillCells": {
      const cells = edit.blocks.reduce((sum, block) => sum + block.rows.length, 0);
      return `fill ${cells} cell${cells === 1 ? "" : "s"} of ours on ${edit.sheet}`;
    }
    case "addSheet":
      return `add sheet ${edit.sheet}`;
    case "addTable":
      return `make ${edit.sheet}!${areaText(edit.area)} the table ${edit.name}`;
    case "growTable":
      return `grow table ${edit.table} to ${edit.sheet}!${areaText(edit.area)}`;
    case "growFilter":
      return `widen the filter to ${edit.sheet}!${areaText(edit.area)}`;
    case "addRule":
      return `add ${edit.rules.length} rules on ${edit.sheet}!${areaText(edit.area)}`;
    case "addChoices":
      return `add choices on ${edit.sheet}!${areaText(edit.area)}`;
    case "addName":
      return `add name ${edit.name}`;
    case "addChart":
      return `add chart "${edit.title}" on ${edit.sheet}`;
    case "printSetup":
      return `set up printing of ${edit.sheet}`;
  }
}

function describeColumn({ sheet, title, headerRow, cells }: AddColumn): string {
  const first = address(headerRow, cells.column);
  const last = address(cells.rows.at(-1) ?? headerRow, cells.column);
  const { formula } = cells;
  const how = formula === undefined ? "values" : `${formula.live ? "live" : "portable"} formulas`;
  return `add column "${title}" at ${sheet}!${first}:${last} (${how})`;
}
