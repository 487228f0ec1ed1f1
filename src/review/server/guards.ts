import { createHash, timingSafeEqual } from "node:crypto";
import type { Context, MiddlewareHandler } from "hono";
import { getCookie, setCookie } from "hono/cookie";
import { secureHeaders } from "hono/secure-headers";

/** Largest request body, bytes: an act with a division of a thousand tubes is some 20 kB. */
export const MOST_BYTES = 256 * 1024;

/** Whom the server answers. */
export interface Admission {
  readonly port: number;
  /** Random; who knows it may see and decide. */
  readonly token: string;
}

/** Names under which the loopback address is asked for; any other one is somebody else's name that points here. */
function hosts(port: number): readonly string[] {
  return [`127.0.0.1:${port}`, `localhost:${port}`];
}

/**
 * Turns away whoever reached us under a foreign name (DNS rebinding), or from a page of another origin. A request that
 * changes something must name our own origin.
 */
export function sameHouse({ port }: Admission): MiddlewareHandler {
  const names = hosts(port);
  const origins = names.map((name) => `http://${name}`);
  return async (c, next) => {
    if (!names.includes(c.req.header("host") ?? "")) return refuse(c, "This server answers only on this computer.");
    const origin = c.req.header("origin");
    const reading = c.req.method === "GET" || c.req.method === "HEAD";
    if (origin === undefined ? !reading : !origins.includes(origin))
      return refuse(c, "This request came from another page.");
    const site = c.req.header("sec-fetch-site");
    if (!reading && site !== undefined && site !== "same-origin")
      return refuse(c, "This request came from another page.");
    await next();
  };
}

/**
 * Lets in who brings the token: in the link once (`?key=`), from then on in a cookie that no script can read and no
 * other site can send.
 */
export function admitted({ port, token }: Admission): MiddlewareHandler {
  // Cookies do not tell ports apart: each server has one of its own name.
  const name = `platepool-${port}`;
  return async (c, next) => {
    const inLink = c.req.method === "GET" && c.req.path === "/" ? c.req.query("key") : undefined;
    if (inLink !== undefined && alike(inLink, token))
      setCookie(c, name, token, { httpOnly: true, sameSite: "Strict", path: "/" });
    else if (!alike(getCookie(c, name) ?? "", token))
      return refuse(c, "Open the link that platepool wrote to the terminal.");
    await next();
  };
}

/** Nothing from elsewhere, no inline script or style, in no frame. */
export const strictHeaders = secureHeaders({
  contentSecurityPolicy: {
    defaultSrc: ["'none'"],
    scriptSrc: ["'self'"],
    styleSrc: ["'self'"],
    imgSrc: ["'self'"],
    connectSrc: ["'self'"],
    baseUri: ["'none'"],
    formAction: ["'none'"],
    frameAncestors: ["'none'"],
  },
  crossOriginResourcePolicy: "same-origin",
  crossOriginOpenerPolicy: "same-origin",
  referrerPolicy: "no-referrer",
  xFrameOptions: "DENY",
  strictTransportSecurity: false,
  // The bench sheet, a page without scripts, brings a policy of its own.
  overwrite: false,
});

function refuse(c: Context, why: string): Response {
  return c.text(`${why}\n`, 403);
}

/** Compared by digest, so that neither length nor place of the first difference shows in the time it takes. */
function alike(a: string, b: string): boolean {
  const digest = (text: string) => createHash("sha256").update(text).digest();
  return timingSafeEqual(digest(a), digest(b));
}
