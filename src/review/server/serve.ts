import type { Server } from "node:http";
import { createAdaptorServer } from "@hono/node-server";
import type { Hono } from "hono";
import { PlatepoolError } from "../../model/index.ts";

/** Only this computer can reach it. */
const LOOPBACK = "127.0.0.1";

export interface Listening {
  readonly port: number;
  /** Ends open connections too, so that it does not wait for pages that stay open. */
  close(): Promise<void>;
}

/**
 * Listens on the loopback address.
 * @param port 0 for any that is free
 * @param app made once the port is known
 * @throws PlatepoolError option-port-taken, option-port-forbidden
 */
export async function listen(port: number, app: (port: number) => Hono): Promise<Listening> {
  let fetch: Hono["fetch"] = () => new Response("not yet\n", { status: 503 });
  const server = createAdaptorServer({ fetch: (request, env) => fetch(request, env), hostname: LOOPBACK }) as Server;
  await new Promise<void>((resolve, reject) => {
    server.once("error", (error: NodeJS.ErrnoException) => reject(portFault(port, error.code)));
    server.listen(port, LOOPBACK, resolve);
  });
  const address = server.address();
  const own = typeof address === "object" && address !== null ? address.port : port;
  fetch = app(own).fetch;
  return {
    port: own,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

function portFault(port: number, code: string | undefined): PlatepoolError {
  return code === "EADDRINUSE"
    ? new PlatepoolError("option-port-taken", `port ${port} is in use: name another with --port, or leave it out`)
    : new PlatepoolError(
        "option-port-forbidden",
        `port ${port} cannot be opened: name another with --port, or leave it out`,
      );
}
