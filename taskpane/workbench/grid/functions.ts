import { BooleanNumber } from "@univerjs/core";
import {
  type CustomFunction,
  type FormulaFunctionValueType,
  FunctionType,
} from "@univerjs/engine-formula";
import { IRegisterFunctionService } from "@univerjs/sheets-formula";
import type { Held } from "./held.ts";
import { gridAnswer, helpFor } from "./typed.ts";

/** Straight to the service: the door in front of it works out the whole book anew each time. */
export function registerFunctions(held: Held): void {
  const service = held.univer.__getInjector().get(IRegisterFunctionService);
  for (const definition of held.functions) {
    const help = helpFor(definition);
    service.registerFunction({
      name: help.name,
      description: {
        functionName: help.name,
        functionType: FunctionType.User,
        description: help.about,
        abstract: help.about,
        functionParameter: help.args.map(({ name, about, example, needed }) => ({
          name,
          detail: about,
          example,
          require: needed ? BooleanNumber.TRUE : BooleanNumber.FALSE,
          repeat: BooleanNumber.FALSE,
        })),
      },
      func(this: CustomFunction | undefined, ...cells: FormulaFunctionValueType[]) {
        const key = `${this?.subUnitId ?? ""} ${this?.row ?? 0} ${this?.column ?? 0}`;
        held.faults.delete(key);
        return gridAnswer(definition.call(cells), (sentence) => {
          held.faults.set(key, sentence);
        });
      },
    });
  }
}
