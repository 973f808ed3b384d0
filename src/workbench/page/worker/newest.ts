/**
 * Asks one thing at a time; of what is asked meanwhile only the newest is asked when that is done, for nobody waits for the
 * rest any more.
 */
export class NewestOnly<Q, A> {
  private running = false;
  private next: { question: Q; tell: (answer: A | null) => void; fail: (error: unknown) => void } | null =
    null;

  constructor(private readonly ask: (question: Q) => Promise<A>) {}

  /** @returns null where a newer question came before this one was asked */
  answer(question: Q): Promise<A | null> {
    return new Promise((tell, fail) => {
      this.next?.tell(null);
      this.next = { question, tell, fail };
      if (!this.running) void this.run();
    });
  }

  private async run(): Promise<void> {
    this.running = true;
    while (this.next) {
      const { question, tell, fail } = this.next;
      this.next = null;
      await this.ask(question).then(tell, fail);
    }
    this.running = false;
  }
}
