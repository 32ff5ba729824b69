/** Keeps what was made last, so that it need not be made again while it is looked at. */

/** Values by key, the least recently used of which goes first. Who asks while a value is being made waits for that one. */
export class Recent<T> {
  private readonly values = new Map<string, Promise<T>>();

  /** @param most values that are kept */
  constructor(private readonly most: number) {}

  /** The value of a key, made where it is not there; a failure is told to those who wait for it and then forgotten. */
  get(key: string, make: () => Promise<T>): Promise<T> {
    const value = this.values.get(key) ?? make();
    this.values.delete(key);
    this.values.set(key, value);
    for (const old of this.values.keys()) {
      if (this.values.size <= this.most) break;
      this.values.delete(old);
    }
    value.catch(() => {
      if (this.values.get(key) === value) this.values.delete(key);
    });
    return value;
  }
}
