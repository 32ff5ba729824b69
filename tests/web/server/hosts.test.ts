import { describe, expect, it } from 'vitest';
import { bracketed, hostsOf, isLoopback } from '../../../src/web/server/hosts.js';

const MACHINE = { name: 'cart', addresses: ['127.0.0.1', '10.0.0.7', 'fe80::1'] };
const hosts = (address: string, port = 4170, names: string[] = []): string[] =>
  [...hostsOf({ address, port, names }, MACHINE)].sort();

describe('the names of this server', () => {
  it('on the loopback are its own, whatever the machine is called', () => {
    expect(hosts('127.0.0.1')).toEqual(['127.0.0.1:4170', '[::1]:4170', 'localhost:4170']);
  });

  it('on every interface are those of the machine', () => {
    expect(hosts('0.0.0.0')).toEqual([
      '10.0.0.7:4170',
      '127.0.0.1:4170',
      '[::1]:4170',
      '[fe80::1]:4170',
      'cart.local:4170',
      'cart:4170',
      'localhost:4170',
    ]);
  });

  it('on one address of the network are that address and the names given', () => {
    expect(hosts('10.0.0.7', 4170, ['Dolly.Example'])).toEqual(['10.0.0.7:4170', 'dolly.example:4170']);
  });

  it('leave the usual port of the web out, as browsers do (RFC 9110, section 4.2.3)', () => {
    expect(hosts('10.0.0.7', 80)).toEqual(['10.0.0.7', '10.0.0.7:80']);
  });

  it('stand in brackets where they are IPv6 addresses (RFC 3986, section 3.2.2)', () => {
    expect(bracketed('::1')).toBe('[::1]');
    expect(bracketed('10.0.0.7')).toBe('10.0.0.7');
  });
});

describe('the loopback (RFC 1122: all of 127.0.0.0/8; RFC 4291: ::1)', () => {
  it.each(['127.0.0.1', '127.8.4.1', '::1', 'localhost'])('is %s', (address) => {
    expect(isLoopback(address)).toBe(true);
  });

  it.each(['0.0.0.0', '10.0.0.7', '::', '127.example.com', '128.0.0.1'])('is not %s', (address) => {
    expect(isLoopback(address)).toBe(false);
  });
});
