// Unpacks the script that the page carries, and runs it: the page's policy tells both by their hashes.
(async () => {
  const packed = document.getElementById("packed");
  if (!("DecompressionStream" in globalThis)) {
    document.getElementById("status").textContent =
      "This browser is too old for this page: it needs one of 2023 or later.";
    return;
  }
  const bytes = Uint8Array.from(atob(packed.textContent), (letter) => letter.charCodeAt(0));
  const unpacked = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  const script = document.createElement("script");
  script.textContent = await new Response(unpacked).text();
  packed.replaceWith(script);
})();
