/**
 * What the mathematics packages bring for engines of long ago, as every browser has it by itself. Without
 * them no text is run as code, which the policy of the pages forbids, and the functions weigh less.
 */
export const native = {
  "@stdlib/array-float32": "Float32Array",
  "@stdlib/array-float64": "Float64Array",
  "@stdlib/array-uint16": "Uint16Array",
  "@stdlib/array-uint32": "Uint32Array",
  "@stdlib/array-uint8": "Uint8Array",
  "@stdlib/assert-has-generator-support": "(() => true)",
  "@stdlib/assert-is-little-endian": "new Uint8Array(new Uint16Array([1]).buffer)[0] === 1",
  "@stdlib/boolean-ctor": "Boolean",
  "@stdlib/number-ctor": "Number",
  "@stdlib/string-format": "String",
  "@stdlib/utils-constant-function": "((value) => () => value)",
  "@stdlib/utils-define-nonenumerable-read-only-property":
    "((object, name, value) => Object.defineProperty(object, name, { value }))",
  "@stdlib/utils-global": "(() => globalThis)",
  debug: "(() => () => undefined)",
};
