/** A Redis of its own for a test: on the loopback, in a folder of its own, gone when the test is over. */
import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import fs from 'node:fs';
import net from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { Redis } from 'ioredis';
import type { RedisAddress } from '../../../src/queue/index.js';

/** Why no Redis can be had here; null where one can. */
export const WITHOUT_REDIS = ((): string | null => {
  if (process.platform === 'win32') return 'there is no redis-server for this system';
  try {
    execFileSync('redis-server', ['--version'], { stdio: 'ignore' });
    return null;
  } catch {
    return 'redis-server is not installed (Debian: apt-get install redis-server)';
  }
})();

/** Title of a suite that says why it was skipped. */
export function titled(title: string): string {
  return WITHOUT_REDIS === null ? title : `${title} (skipped: ${WITHOUT_REDIS})`;
}

/** How a server is started. */
export interface ServerOptions {
  /** Whether what it holds outlives it: every command is on the disk before it is answered. */
  readonly keeps?: boolean;
  readonly password?: string;
  /** Files of a certificate and its key: then connections are encrypted. */
  readonly tls?: { readonly certificate: string; readonly key: string };
}

/** A running server. */
export class RedisServer {
  #child: ChildProcess | null = null;

  private constructor(
    readonly address: RedisAddress,
    private readonly folder: string,
    private readonly options: ServerOptions,
  ) {}

  static async start(options: ServerOptions = {}): Promise<RedisServer> {
    const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-redis-'));
    const { password, tls } = options;
    const address = { host: '127.0.0.1', port: await freePort(), db: 0, tls: tls !== undefined };
    const server = new RedisServer({ ...address, ...(password && { password }) }, folder, options);
    await server.begin();
    return server;
  }

  /** As a command line names it. */
  get url(): string {
    const { host, port, password, tls } = this.address;
    return `${tls ? 'rediss' : 'redis'}://${password === undefined ? '' : `:${password}@`}${host}:${port}`;
  }

  /** Starts it, again after `kill`; resolves when it answers. */
  async begin(): Promise<void> {
    const { host, port, password } = this.address;
    const { tls } = this.options;
    const words = [
      ...(tls === undefined
        ? ['--port', String(port)]
        : [
            ...['--port', '0', '--tls-port', String(port), '--tls-auth-clients', 'no'],
            ...['--tls-cert-file', tls.certificate, '--tls-key-file', tls.key],
          ]),
      ...['--bind', host, '--dir', this.folder, '--save', ''],
      ...(this.options.keeps ? ['--appendonly', 'yes', '--appendfsync', 'always'] : ['--appendonly', 'no']),
      ...(password === undefined ? [] : ['--requirepass', password]),
    ];
    this.#child = spawn('redis-server', words, { stdio: 'ignore' });
    for (let tries = 0; tries < 200; tries++) {
      if (await answers(host, port, tls !== undefined)) return;
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    throw new Error('redis-server did not answer within 10 s');
  }

  /** What it holds, by name; needs a server without a password. */
  keys(pattern: string): Promise<string[]> {
    return this.#asked((client) => client.keys(pattern));
  }

  /** Gives it no more memory than so many bytes; 0 for all there is. */
  async limitMemory(bytes: number): Promise<void> {
    await this.#asked((client) => client.config('SET', 'maxmemory', bytes));
  }

  async #asked<T>(ask: (client: Redis) => Promise<T>): Promise<T> {
    const client = new Redis({ host: this.address.host, port: this.address.port });
    try {
      return await ask(client);
    } finally {
      client.disconnect();
    }
  }

  /** Ends it as a power cut would. */
  async kill(): Promise<void> {
    const child = this.#child;
    this.#child = null;
    if (child === null || child.exitCode !== null) return;
    const gone = new Promise((resolve) => child.once('exit', resolve));
    child.kill('SIGKILL');
    await gone;
  }

  /** Ends it and takes its folder away. */
  async end(): Promise<void> {
    await this.kill();
    fs.rmSync(this.folder, { recursive: true, force: true });
  }
}

/** A port of the loopback that nobody listens on. */
export async function freePort(): Promise<number> {
  const server = net.createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as net.AddressInfo;
  await new Promise((resolve) => server.close(resolve));
  return port;
}

function answers(host: string, port: number, isEncrypted: boolean): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = net.connect(port, host);
    const say = (answer: boolean): void => {
      socket.destroy();
      resolve(answer);
    };
    socket.once('error', () => say(false));
    // One that wants encryption does not answer what is said plainly: that it listens must do.
    socket.once('connect', () => (isEncrypted ? say(true) : socket.write('PING\r\n')));
    // One that wants a password answers, too; one that still reads its file says so.
    socket.once('data', (bytes) => say(!bytes.toString().startsWith('-LOADING')));
  });
}
