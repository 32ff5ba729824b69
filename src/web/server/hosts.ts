/** The names that a browser may call this server by, as they stand in the Host header. */
import os from 'node:os';
import { isIP } from 'node:net';

/** Where the server listens. */
export interface Binding {
  /** Address of an interface, or 0.0.0.0 or :: for all. */
  readonly address: string;
  readonly port: number;
  /** Further names that the crew reaches it by. */
  readonly names: readonly string[];
}

/** True where only this machine can reach the address. */
export function isLoopback(address: string): boolean {
  return address === 'localhost' || address === '::1' || /^127\.\d+\.\d+\.\d+$/.test(address);
}

/** True where the address stands for every interface. */
export function isEverywhere(address: string): boolean {
  return address === '0.0.0.0' || address === '::';
}

/**
 * The values of Host that are this server. On the loopback that is the address and "localhost"; on a network the addresses of the
 * machine, its name, and the names given.
 */
export function hostsOf(
  { address, port, names }: Binding,
  machine: { readonly name: string; readonly addresses: readonly string[] } = thisMachine(),
): ReadonlySet<string> {
  const own = isEverywhere(address)
    ? [...machine.addresses, machine.name, `${machine.name}.local`]
    : [address];
  const local = isEverywhere(address) || isLoopback(address) ? ['localhost', '127.0.0.1', '::1'] : [];
  const all = [...own, ...local, ...names].map((name) => bracketed(name.toLowerCase()));
  // Browsers leave the usual port out.
  return new Set(all.flatMap((name) => (port === 80 ? [name, `${name}:80`] : [`${name}:${port}`])));
}

/** The address as it stands in a URL. @example urlHost('::1') // '[::1]' */
export function bracketed(address: string): string {
  return isIP(address) === 6 ? `[${address}]` : address;
}

function thisMachine(): { name: string; addresses: string[] } {
  const addresses = Object.values(os.networkInterfaces())
    .flatMap((entries) => entries ?? [])
    .map(({ address }) => address.replace(/%.*$/, ''));
  return { name: os.hostname().toLowerCase(), addresses };
}
