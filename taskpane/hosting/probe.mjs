// Asks a host for every file that Excel will ask for, and names what is not as Excel needs it.
import { DESCRIPTION, typeOf } from "./served.mjs";

/** An origin that is not the host's: Excel on the web asks from one of its own. */
const ELSEWHERE = "https://elsewhere.example";

/** What is wrong with an answer, in a sentence each. */
function faultsOf(path, response, body, expected) {
  const faults = [];
  const header = (name) => response.headers.get(name);
  const say = (what, must, got) => faults.push(`${path}: ${what} must be ${must}, got ${got}`);
  if (response.status !== 200) {
    say("the answer", "200", response.status);
    return faults;
  }
  if (response.redirected) say("the address", "answered without a redirection", response.url);
  const [type = ""] = (header("content-type") ?? "").split(";");
  if (!alike(type.trim().toLowerCase(), typeOf(path))) {
    say("Content-Type", typeOf(path), header("content-type") ?? "none");
  }
  const framing = header("x-frame-options");
  if (framing !== null) say("X-Frame-Options", "absent, or Office cannot show the page", framing);
  const policy = header("content-security-policy") ?? "";
  if (/frame-ancestors/i.test(policy)) {
    say("Content-Security-Policy", "without frame-ancestors", `"${policy}"`);
  }
  if (path.endsWith(".html") && policy !== "" && !letsExcelIn(policy)) {
    say(
      "Content-Security-Policy",
      "open for scripts of appsforoffice.microsoft.com",
      `"${policy}"`,
    );
  }
  if (path === DESCRIPTION) {
    const allowed = header("access-control-allow-origin");
    if (allowed !== "*") say("Access-Control-Allow-Origin", "*", allowed ?? "none");
  }
  if (expected !== null && !expected.equals(body)) {
    say("the content", "what this build made", `${body.length} other bytes`);
  }
  return faults;
}

function alike(got, wanted) {
  return got === wanted || (wanted === "text/javascript" && got === "application/javascript");
}

/** Whether the policy lets Excel's script run: its own rule for scripts, else the one for everything. */
function letsExcelIn(policy) {
  const rules = policy.split(";").map((rule) => rule.trim());
  const rule =
    rules.find((one) => /^script-src(-elem)?\s/.test(one)) ??
    rules.find((one) => /^default-src\s/.test(one));
  return rule === undefined || /appsforoffice\.microsoft\.com|\shttps:(\s|$)|\s\*(\s|$)/.test(rule);
}

/**
 * The faults of a host, by asking it for each file.
 *
 * @param address Where the files are, without a slash at the end.
 * @param files The paths below it, each with the bytes it must hold, or null.
 * @returns The number of files asked for and a sentence for each fault.
 */
export async function probe(address, files) {
  const faults = [];
  for (const [path, expected] of files) {
    try {
      const response = await fetch(`${address}/${path}`, { headers: { Origin: ELSEWHERE } });
      const body = Buffer.from(await response.arrayBuffer());
      faults.push(...faultsOf(path, response, body, expected));
    } catch (error) {
      const why = error.cause?.message ?? error.message;
      faults.push(`${path}: the host must answer, got "${why}"`);
    }
  }
  return { asked: files.size, faults };
}
