import { afterEach, describe, expect, it, vi } from "vitest";
import { onDemand } from "../../taskpane/on-demand.ts";

afterEach(() => {
  vi.useRealTimers();
});

describe("a part that comes when it is asked for", () => {
  it("is fetched once, and there from then on", async () => {
    const fetch = vi.fn(() => Promise.resolve(["part"]));
    const part = onDemand(fetch);
    expect(part.there()).toBeNull();
    expect(fetch).not.toHaveBeenCalled();
    expect(await Promise.all([part.fetched(), part.fetched()])).toEqual([["part"], ["part"]]);
    expect(part.there()).toEqual(["part"]);
    expect(fetch).toHaveBeenCalledTimes(1);
  });

  it("is told of once it has come, before whoever waits for it, and at once later", async () => {
    const part = onDemand(() => Promise.resolve(["part"]));
    const heard: string[] = [];
    part.onCome(() => heard.push("before"));
    const waiting = part.fetched().then(() => heard.push("waiting"));
    expect(heard).toEqual([]);
    await waiting;
    part.onCome(() => heard.push("later"));
    expect(heard).toEqual(["before", "waiting", "later"]);
  });

  it("is fetched anew where it could not be had", async () => {
    const fetch = vi
      .fn(() => Promise.resolve(["part"]))
      .mockRejectedValueOnce(new Error("no network"));
    const part = onDemand(fetch);
    await expect(part.fetched()).rejects.toThrow("no network");
    expect(part.there()).toBeNull();
    expect(await part.fetched()).toEqual(["part"]);
  });

  it("cannot be had where it does not come in time, whatever it waits for", async () => {
    vi.useFakeTimers();
    const part = onDemand(() => new Promise<string[]>(() => undefined));
    const told = part.fetched().catch(String);
    await vi.advanceTimersByTimeAsync(20_000);
    expect(await told).toBe("Error: it takes too long to come");
    expect(part.there()).toBeNull();
  });
});
