/**
 * What the grid library brings for documents, fonts and servers, which no workbook asks for, and what takes
 * its place: by the name of the package, the text of a module.
 */
const LETTERS = String.raw`(?:(?=[\p{sc=Han}\p{sc=Katakana}\p{sc=Hiragana}\p{sc=Hangul}\p{sc=Bopomofo}])[\p{Lo}\p{Nl}\p{So}\p{Lm}])`;
const BLOCKS = String.raw`[\u2FF0-\u303F\u3190-\u319F\u31C0-\u31EF\u3200-\u33FF\uFE10-\uFE1F\uFE30-\uFE6F\uFF00-\uFFEF\u30A0-\u30FF]`;
const matching = (name, source) =>
  `export const ${name} = () => ({ toRegExp: () => /${source}/u });`;

export const leftOut = {
  // Tells the language of a document, for its hyphens.
  "franc-min": 'export const franc = () => "und";',
  // Reads the font files of a document.
  "opentype.js": 'export const parse = () => { throw new Error("no font files are read here"); };',
  // Keeps in the browser what somebody last chose: these pages keep nothing.
  localforage: `const none = () => Promise.resolve(null);
    export default { getItem: none, setItem: none, removeItem: none, clear: none, key: none, keys: none, iterate: none };`,
  // Letters of Chinese, Japanese and Korean: the browser knows them without tables.
  "cjk-regex": [
    matching("letters", LETTERS),
    matching("all", `(?:${LETTERS}|${BLOCKS})`),
    matching("punctuations", `(?!${LETTERS})${BLOCKS}`),
  ].join("\n"),
};

/** Hyphens in eighty languages, for documents. */
export const HYPHENS = /engine-render[/\\]lib[/\\]es[/\\](?!index\.js$)[\w-]+\.js$/;

/** Photographs and drawings: choices of lists in documents, and what stands in panels that have nothing to show. */
const PICTURE = /data:image\/(?:png|jpeg);base64,[\w+/=]{1000,}/g;
const BLANK = "data:image/gif;base64,R0lGODlhAQABAAAAACH5BAEKAAEALAAAAAABAAEAAAICTAEAOw==";

/** A module without its pictures; null where it has none. */
export function withoutPictures(code) {
  const bare = code.replaceAll(PICTURE, BLANK);
  return bare === code ? null : bare;
}

/** The list of functions, whose help the library names by keys: here it holds the help itself, in English. */
export const FUNCTION_LIST = /sheets-formula[/\\]lib[/\\]es[/\\]index\.js$/;

/**
 * A module with texts in the place of their keys.
 *
 * @param texts The texts by the parts of their keys, as the library keeps them.
 */
export function withTexts(code, texts) {
  return code.replaceAll(/"(sheets-formula\.functionList\.[^"]+)"/g, (quoted, key) => {
    const text = key.split(".").reduce((found, part) => found?.[part], texts);
    return typeof text === "string" ? JSON.stringify(text) : quoted;
  });
}
