/**
 * Disjoint sets of which each knows its root at once: when two are joined, the one with fewer members is rewritten
 * (weighted quick-find: Aho, Hopcroft & Ullman 1974, The Design and Analysis of Computer Algorithms, section 4.6).
 *
 * With many look-ups to a join this beats union-find with path compression, whose walk to the root is a loop that the
 * processor cannot predict.
 */
export class JoinedSets {
  /** For each set the set it is part of by now: itself, or the one it was joined to. Read freely. */
  readonly rootOf: Int32Array;
  /** For each root its size, 1 when added; the caller may let it grow. */
  readonly size: Int32Array;
  /** The sets joined under one root, as a ring, and how many there are. */
  private readonly nextMember: Int32Array;
  private readonly members: Int32Array;
  private count = 0;

  /** @param capacity how many sets may be added between two calls of `clear` */
  constructor(capacity: number) {
    this.rootOf = new Int32Array(capacity);
    this.size = new Int32Array(capacity);
    this.nextMember = new Int32Array(capacity);
    this.members = new Int32Array(capacity);
  }

  clear(): void {
    this.count = 0;
  }

  /** Adds a set of size 1 and returns its index. */
  add(): number {
    const added = this.count++;
    this.rootOf[added] = added;
    this.size[added] = 1;
    this.nextMember[added] = added;
    this.members[added] = 1;
    return added;
  }

  /** Joins two different roots and returns the one that stays. */
  join(a: number, b: number): number {
    const { rootOf, size, nextMember, members } = this;
    const aStays = members[a]! >= members[b]!;
    const stays = aStays ? a : b;
    const goes = aStays ? b : a;
    let member = goes;
    do {
      rootOf[member] = stays;
      member = nextMember[member]!;
    } while (member !== goes);
    // Exchanging one link of each makes one ring of two.
    const link = nextMember[stays]!;
    nextMember[stays] = nextMember[goes]!;
    nextMember[goes] = link;
    members[stays]! += members[goes]!;
    size[stays]! += size[goes]!;
    return stays;
  }
}
