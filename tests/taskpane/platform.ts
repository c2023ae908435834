import { readdirSync } from "node:fs";
import { resolve } from "node:path";
import ts from "typescript";

/** A member of Excel's or Office's that the code uses, with the requirement set that brings it. */
export interface Used {
  readonly name: string;
  readonly set: string;
  readonly version: string;
  readonly at: string;
  /** Somewhere around it the code asks whether the set is there. */
  readonly guarded: boolean;
}

/** What the code knows to be supported by a name, such as groupsUndo. */
type Flags = ReadonlyMap<string, Pick<Used, "set" | "version">>;

const TYPINGS = /@types\/(?:office-js|custom-functions-runtime)\//;
const SETS = /\[Api set: ([^\]]+)\]|\*\*Requirement set\*\*: \{[^|]*\| (\w+ [\d.]+)\}/g;
const SET = /\b(ExcelApi|SharedRuntime|CustomFunctionsRuntime)\b/;

/** The folders that speak to the platform. */
const FOLDERS = ["taskpane/excel", "taskpane/pane"];
const FILES = ["functions/excel.ts", "functions/start.ts"];

/** Every member of the platform that the code uses, and one file more where a test gives one. */
export function usedMembers(planted?: string): Used[] {
  const folders = FOLDERS.flatMap((folder) =>
    readdirSync(folder)
      .filter((name) => /\.tsx?$/.test(name))
      .map((name) => `${folder}/${name}`),
  );
  const files = [...folders, ...FILES].map((file) => resolve(file));
  const extra = resolve("taskpane/excel/planted.ts");
  const { options } = ts.parseJsonConfigFileContent(
    ts.readConfigFile("taskpane/tsconfig.json", (path) => ts.sys.readFile(path)).config,
    ts.sys,
    resolve("taskpane"),
  );
  const types = ["office-js", "custom-functions-runtime"];
  const set = { ...options, types, noEmit: true, composite: false, incremental: false };
  const host = ts.createCompilerHost(set);
  host.readFile = (name) => (name === extra ? planted : ts.sys.readFile(name));
  host.fileExists = (name) => (name === extra ? planted !== undefined : ts.sys.fileExists(name));
  const roots = planted === undefined ? files : [...files, extra];
  const program = ts.createProgram({ rootNames: roots, options: set, host });
  const ours = program.getSourceFiles().filter(({ fileName }) => roots.includes(fileName));
  // It also tells every node its parent.
  const checker = program.getTypeChecker();
  const flags: Flags = new Map(ours.flatMap(flagsIn));
  return ours.flatMap((source) => membersIn(source, checker, flags));
}

/** Names that hold the answer of isSetSupported. */
function flagsIn(source: ts.SourceFile): [string, Pick<Used, "set" | "version">][] {
  const found: [string, Pick<Used, "set" | "version">][] = [];
  visit(source, (node) => {
    if (!ts.isPropertyAssignment(node) && !ts.isVariableDeclaration(node)) return;
    const asked = node.initializer === undefined ? null : askedFor(node.initializer);
    if (asked !== null) found.push([node.name.getText(source), asked]);
  });
  return found;
}

/** The set and version that a call of isSetSupported asks for; null for any other expression. */
function askedFor(node: ts.Node): Pick<Used, "set" | "version"> | null {
  if (!ts.isCallExpression(node) || !/\bisSetSupported$/.test(node.expression.getText()))
    return null;
  const [set, version] = node.arguments.map((one) => (ts.isStringLiteral(one) ? one.text : ""));
  return { set: set ?? "", version: version ?? "1.1" };
}

function membersIn(source: ts.SourceFile, checker: ts.TypeChecker, flags: Flags): Used[] {
  const found: Used[] = [];
  const note = (symbol: ts.Symbol | undefined, node: ts.Node): void => {
    const used = symbol === undefined ? null : platformMember(checker, symbol);
    if (used === null) return;
    const line = source.getLineAndCharacterOfPosition(node.getStart(source)).line + 1;
    const at = `${source.fileName.slice(resolve(".").length + 1)}:${line}`;
    found.push({ ...used, at, guarded: isGuarded(node, used, flags) });
  };
  visit(source, (node) => {
    if (ts.isPropertyAccessExpression(node)) note(checker.getSymbolAtLocation(node.name), node);
    if (ts.isBindingElement(node) && ts.isObjectBindingPattern(node.parent)) {
      const name = (node.propertyName ?? node.name).getText(source);
      note(checker.getTypeAtLocation(node.parent).getProperty(name), node);
    }
    if (ts.isPropertyAssignment(node) || ts.isShorthandPropertyAssignment(node)) {
      const type = checker.getContextualType(node.parent);
      const kinds = type?.isUnion() === true ? type.types : type === undefined ? [] : [type];
      for (const kind of kinds) note(kind.getProperty(node.name.getText(source)), node);
    }
    for (const [path, type, at] of loadsAt(node, checker)) {
      for (const symbol of alongPath(checker, type, path, at)) note(symbol, at);
    }
  });
  return found;
}

/** The paths that a call of load names, with the type they begin at. */
function loadsAt(node: ts.Node, checker: ts.TypeChecker): [string, ts.Type, ts.Node][] {
  if (!ts.isCallExpression(node) || !ts.isPropertyAccessExpression(node.expression)) return [];
  const [given] = node.arguments;
  if (node.expression.name.text !== "load" || given === undefined) return [];
  const method = checker.getSymbolAtLocation(node.expression.name);
  if (!isOfPlatform(method)) return [];
  const text = checker.getTypeAtLocation(given);
  if (!text.isStringLiteral()) throw new Error(`${node.getText()} loads no fixed text`);
  const type = checker.getTypeAtLocation(node.expression.expression);
  return text.value.split(",").map((path) => [path.trim(), type, node]);
}

function alongPath(checker: ts.TypeChecker, from: ts.Type, path: string, at: ts.Node): ts.Symbol[] {
  const found: ts.Symbol[] = [];
  let type = from;
  for (const name of path.split("/")) {
    const member: ts.Symbol | undefined = type.getProperty(name);
    if (member === undefined) throw new Error(`load of ${path}: there is no ${name}`);
    found.push(member);
    const held = checker.getTypeOfSymbolAtLocation(member, at);
    type = checker.getIndexTypeOfType(held, ts.IndexKind.Number) ?? held;
  }
  return found;
}

function isOfPlatform(symbol: ts.Symbol | undefined): boolean {
  return symbol?.declarations?.some((one) => TYPINGS.test(one.getSourceFile().fileName)) ?? false;
}

type Member = Pick<Used, "name" | "set" | "version">;

/** The highest set that a member's documentation names, its own or that of what it belongs to. */
function platformMember(checker: ts.TypeChecker, symbol: ts.Symbol): Member | null {
  const own = (symbol.declarations ?? []).filter((one) =>
    TYPINGS.test(one.getSourceFile().fileName),
  );
  if (own.length === 0) return null;
  const name = checker.getFullyQualifiedName(symbol);
  for (let all: ts.Node[] = own; all.length > 0; all = all.flatMap(({ parent }) => outer(parent))) {
    const sets = all.flatMap(setsOf);
    const [highest] = sets.sort((one, other) => compared(other.version, one.version));
    if (highest !== undefined) return { name, ...highest };
  }
  return { name, set: "", version: "0" };
}

function outer(node: ts.Node | undefined): ts.Node[] {
  return node === undefined || ts.isSourceFile(node) ? [] : [node];
}

function setsOf(node: ts.Node): Pick<Used, "set" | "version">[] {
  const text = node.getSourceFile().text.slice(node.getFullStart(), node.getStart());
  return [...text.matchAll(SETS)].flatMap((found) => {
    const said = found[1] ?? found[2] ?? "";
    const [set] = SET.exec(said) ?? [];
    const versions = said.match(/\d+\.\d+/g) ?? [];
    return set === undefined ? [] : versions.map((version) => ({ set, version }));
  });
}

/** Whether something around a node asks for the set, or for a name that holds the answer. */
function isGuarded(node: ts.Node, { set, version }: Member, flags: Flags): boolean {
  const covers = (asked: Pick<Used, "set" | "version"> | null | undefined): boolean =>
    asked?.set === set && compared(asked.version, version) >= 0;
  const isAsking = (one: ts.Node): boolean =>
    covers(askedFor(one)) || (ts.isIdentifier(one) && covers(flags.get(one.text)));
  for (let at: ts.Node = node; !ts.isSourceFile(at); at = at.parent) {
    const condition = conditionFor(at);
    const asks = condition === null ? [] : within(condition).filter(isAsking);
    if (asks.length > 0) return true;
  }
  return false;
}

/** The condition under which a node alone is reached, where its parent states one. */
function conditionFor(node: ts.Node): ts.Expression | null {
  const { parent } = node;
  if (ts.isConditionalExpression(parent)) return parent.whenTrue === node ? parent.condition : null;
  if (ts.isIfStatement(parent)) return parent.thenStatement === node ? parent.expression : null;
  const isAnd =
    ts.isBinaryExpression(parent) &&
    parent.operatorToken.kind === ts.SyntaxKind.AmpersandAmpersandToken;
  return isAnd && parent.right === node ? parent.left : null;
}

function within(node: ts.Node): ts.Node[] {
  const found: ts.Node[] = [];
  visit(node, (one) => found.push(one));
  return found;
}

function visit(node: ts.Node, see: (node: ts.Node) => void): void {
  see(node);
  ts.forEachChild(node, (child) => {
    visit(child, see);
  });
}

/** Compares versions such as 1.9 and 1.13: negative where the first is earlier. */
export function compared(one: string, other: string): number {
  const [left, right] = [one, other].map((text) => text.split(".").map(Number));
  return (left?.[0] ?? 0) - (right?.[0] ?? 0) || (left?.[1] ?? 0) - (right?.[1] ?? 0);
}
