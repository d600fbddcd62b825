/** What is drawn of each thing, from one drawing to the next: made again only for what is another thing than before. */

/** Holds one kind of drawing of one sheet. Things are immutable, so that the same object is drawn the same. */
export class KeptDrawings<Thing extends object, Drawn> {
  /** How many have been made so far. */
  made = 0;
  private kept = new WeakMap<Thing, Drawn>();
  private key: readonly unknown[] = [];

  /** @param key what all of them are drawn with beside the things; where one of it is another, all are made anew */
  of(things: readonly Thing[], key: readonly unknown[], make: (thing: Thing) => Drawn): Drawn[] {
    if (key.length !== this.key.length || key.some((part, i) => !Object.is(part, this.key[i]))) {
      this.kept = new WeakMap();
      this.key = key;
    }
    return things.map((thing) => {
      const known = this.kept.get(thing);
      if (known !== undefined) return known;
      this.made += 1;
      const made = make(thing);
      this.kept.set(thing, made);
      return made;
    });
  }
}
