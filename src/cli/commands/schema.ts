import { z } from "zod";
import { type Command, command, type Words } from "../command.ts";
import { UsageError } from "../io.ts";
import { list } from "../result.ts";

/** The command whose result is meant; "" for none. */
const COMMAND: Words<string> = { shows: "[COMMAND]", read: (words) => words.join(" ") };

/** The form of every result for machines; given the other commands. */
export function schemaOf(commands: readonly Command[]): Command {
  const schema = command({
    name: "schema",
    moment: "",
    brief: "the structure of what --json prints, as JSON Schema",
    about: `The structure of what a command prints with --json, as JSON Schema (draft 2020-12). Without a command,
the names of the commands that print JSON.`,
    words: COMMAND,
    writes: "",
    common: ["json"],
    examples: ["schema", "schema today", "schema share order"],
    options: {},
    result: z.union([list(z.string()), z.looseObject({ $schema: z.string() })]),
    run({ words: name, say }) {
      const printing = [...commands, schema].filter(({ result }) => result !== null);
      if (name === "") {
        const names = printing.map((one) => one.name);
        say(
          () => names,
          () => names,
        );
        return 0;
      }
      const form = formOf(printing.find((one) => one.name === name));
      if (form === null) {
        throw new UsageError(
          `"${name}" prints no JSON; sparespan schema names the commands that do`,
        );
      }
      say(
        () => JSON.stringify(form, null, 2).split("\n"),
        () => form,
      );
      return 0;
    },
  });
  return schema;
}

function formOf(found: Command | undefined) {
  if (found === undefined || found.result === null) return null;
  const { $schema = "", ...form } = z.toJSONSchema(found.result);
  const title = `sparespan ${found.name} --json`;
  return { $schema, title, description: found.brief, ...form };
}
