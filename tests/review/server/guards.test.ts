import { describe, expect, it } from "vitest";
import { MOST_BYTES } from "../../../src/review/server/guards.ts";
import { ask, houseApp, OURS, PORT, TOKEN } from "../support/house.ts";

const HOST = { host: OURS.host };
const ACT = { method: "POST", body: "{}" };
const JSON_TYPE = { "content-type": "application/json" };

describe("who is let in", () => {
  it("with the link: the page, and a cookie that scripts cannot read and other sites cannot send", async () => {
    const answer = await ask(houseApp(), `/?key=${TOKEN}`, { headers: HOST });
    expect(answer.status).toBe(200);
    const cookie = answer.headers.get("set-cookie")!;
    expect(cookie).toContain(`platepool-${PORT}=${TOKEN}`);
    expect(cookie).toMatch(/HttpOnly/);
    expect(cookie).toMatch(/SameSite=Strict/);
    expect(cookie).toMatch(/Path=\//);
  });

  it("with the cookie from then on", async () => {
    for (const path of ["/", "/main.js", "/main.css", "/look.css", "/icon.svg", "/state"])
      expect((await ask(houseApp(), path)).status, path).toBe(200);
  });

  it("nobody without the token: not to the page, the state, a picture, the events", async () => {
    for (const path of ["/", "/?key=wrong", "/main.js", "/state", "/events", `/state?key=${TOKEN}`, "/nothing"]) {
      const answer = await ask(houseApp(), path, { headers: HOST });
      expect(answer.status, path).toBe(403);
      expect(await answer.text()).toContain("Open the link that platepool wrote to the terminal");
    }
  });

  it("nobody with the cookie of another port or an old token", async () => {
    for (const cookie of [`platepool-9999=${TOKEN}`, `platepool-${PORT}=${TOKEN}x`, `platepool-${PORT}=`])
      expect((await ask(houseApp(), "/state", { headers: { ...HOST, cookie } })).status).toBe(403);
  });

  it("nobody who came under another name, token or not (DNS rebinding)", async () => {
    for (const host of ["evil.example", `evil.example:${PORT}`, "127.0.0.1", `127.0.0.1:${PORT + 1}`, `[::1]:${PORT}`])
      expect((await ask(houseApp(), "/state", { headers: { ...OURS, host } })).status, host).toBe(403);
    expect((await ask(houseApp(), "/state", { headers: { cookie: OURS.cookie } })).status).toBe(403);
  });

  it("localhost is this computer too", async () => {
    const headers = { ...OURS, host: `localhost:${PORT}`, origin: `http://localhost:${PORT}` };
    expect((await ask(houseApp(), "/state", { headers })).status).toBe(200);
  });
});

describe("what other pages can do", () => {
  it("nothing: acts must come from our own origin", async () => {
    const app = houseApp();
    for (const origin of ["http://evil.example", "null", `https://127.0.0.1:${PORT}`, `http://127.0.0.1:${PORT + 1}`])
      expect((await ask(app, "/act", { ...ACT, headers: { ...OURS, ...JSON_TYPE, origin } })).status, origin).toBe(403);
    const { origin: _, ...unnamed } = OURS;
    expect((await ask(app, "/act", { ...ACT, headers: { ...unnamed, ...JSON_TYPE } })).status).toBe(403);
    const crossed = { ...OURS, ...JSON_TYPE, "sec-fetch-site": "cross-site" };
    expect((await ask(app, "/act", { ...ACT, headers: crossed })).status).toBe(403);
    expect((await ask(app, "/act", { ...ACT, headers: { ...OURS, ...JSON_TYPE } })).status).toBe(409);
  });

  it("nothing either of what may be about to come", async () => {
    const app = houseApp();
    const foreign = { ...OURS, ...JSON_TYPE, origin: "http://evil.example" };
    expect((await ask(app, "/ahead", { ...ACT, headers: foreign })).status).toBe(403);
    expect((await ask(app, "/ahead", { ...ACT, headers: { ...OURS, "content-type": "text/plain" } })).status).toBe(415);
    expect((await ask(app, "/ahead", { ...ACT, headers: { ...OURS, ...JSON_TYPE } })).status).toBe(204);
    expect((await ask(app, "/ahead")).status).toBe(404);
  });

  it("no form can post: an act is JSON", async () => {
    const app = houseApp();
    for (const type of ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x"])
      expect((await ask(app, "/act", { ...ACT, headers: { ...OURS, "content-type": type } })).status, type).toBe(415);
    expect((await ask(app, "/act", { method: "POST", headers: { ...OURS, ...JSON_TYPE }, body: "{" })).status).toBe(
      400,
    );
  });

  it("no frame, no inline script, nothing from elsewhere", async () => {
    for (const path of ["/", "/state", "/nothing"]) {
      const { headers } = await ask(houseApp(), path);
      const policy = headers.get("content-security-policy")!;
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("frame-ancestors 'none'");
      expect(policy).toContain("base-uri 'none'");
      expect(policy).not.toMatch(/unsafe|data:|\*|https?:/);
      expect(headers.get("x-content-type-options")).toBe("nosniff");
      expect(headers.get("cross-origin-resource-policy")).toBe("same-origin");
      expect(headers.get("access-control-allow-origin")).toBeNull();
      expect(headers.get("referrer-policy")).toBe("no-referrer");
    }
  });
});

it("a request that is too large is not read", async () => {
  const body = JSON.stringify({ filler: "x".repeat(MOST_BYTES) });
  const headers = { ...OURS, ...JSON_TYPE, "content-length": String(body.length) };
  expect((await ask(houseApp(), "/act", { method: "POST", headers, body })).status).toBe(413);
});

it("a failure inside says nothing of the inside", async () => {
  const app = houseApp({
    state: () => {
      throw new Error("/home/somebody/secret");
    },
  });
  const answer = await ask(app, "/state");
  expect(answer.status).toBe(500);
  expect(await answer.text()).not.toContain("secret");
});

it("the bench sheet may carry its own style, and still nothing in it runs", async () => {
  const { status, headers } = await ask(houseApp(), "/sheet");
  expect(status).toBe(200);
  expect(headers.get("content-security-policy")).toMatch(/^default-src 'none'; style-src 'unsafe-inline'/);
  expect(headers.get("content-security-policy")).not.toContain("script-src");
  expect((await ask(houseApp(), "/sheet", { headers: HOST })).status).toBe(403);
});
