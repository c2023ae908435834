import type { NameModel } from "./model.ts";
import { asWritten, shownAnew } from "./rendering.ts";
import { Fault, textOf, type Thing, thing } from "./thing.ts";

/** Defined names of the workbook or of a sheet. */
export function namesThing(holder: { names: NameModel[] }, rendersAnew: boolean): Thing {
  const named = (key: unknown): NameModel | undefined => {
    const wanted = textOf(key).toLowerCase();
    return holder.names.find(({ name }) => name.toLowerCase() === wanted);
  };
  return thing({
    kind: "NamedItemCollection",
    items: () => holder.names.map((name) => nameThing(holder, name, rendersAnew)),
    item: (key) => {
      const found = named(key);
      if (found === undefined) throw new Fault("ItemNotFound", `no name ${textOf(key)}`);
      return nameThing(holder, found, rendersAnew);
    },
    call: {
      getItemOrNullObject: (key) => {
        const found = named(key);
        return found === undefined ? null : nameThing(holder, found, rendersAnew);
      },
      add: (name, reference) => {
        if (named(name) !== undefined) {
          throw new Fault("ItemAlreadyExists", `there is a name ${textOf(name)}`);
        }
        const made = { name: textOf(name), formula: formulaOf(reference) };
        if (!/^[\p{L}_\\][\p{L}\p{N}_.\\?]*$/u.test(made.name)) {
          throw new Fault("InvalidArgument", `${made.name} is no name`);
        }
        holder.names.push(made);
        return nameThing(holder, made, rendersAnew);
      },
    },
  });
}

function formulaOf(given: unknown): string {
  const formula = textOf(given);
  if (formula.startsWith("=")) return asWritten(formula);
  throw new Fault("InvalidArgument", "a name's formula must begin with =");
}

function nameThing(holder: { names: NameModel[] }, name: NameModel, rendersAnew: boolean): Thing {
  return thing({
    kind: "NamedItem",
    id: name.name,
    get: {
      name: () => name.name,
      formula: () => (rendersAnew ? shownAnew(name.formula) : name.formula),
      type: () => (name.formula.includes("#REF!") ? "Error" : "Range"),
      visible: () => true,
    },
    set: {
      formula: (given) => {
        name.formula = formulaOf(given);
      },
    },
    call: {
      delete: () => {
        holder.names = holder.names.filter((one) => one !== name);
      },
    },
  });
}
