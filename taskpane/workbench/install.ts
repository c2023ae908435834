/** Where the page says it can be installed, its own files are kept, so that it opens without a network. */
export function keepForLater(): void {
  if (document.querySelector('link[rel="manifest"]') === null) return;
  // Somebody may have forbidden it: the page works without.
  if ("serviceWorker" in navigator) {
    navigator.serviceWorker.register("worker.js").catch(() => undefined);
  }
}
