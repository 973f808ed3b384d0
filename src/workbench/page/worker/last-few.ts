/** The last few answers by what was asked, so that asking again costs nothing. */
export class LastFew<A> {
  private readonly answers = new Map<string, A>();

  constructor(private readonly most: number) {}

  get(question: string): A | undefined {
    const answer = this.answers.get(question);
    if (answer === undefined) return undefined;
    // Asked for again: the last to go.
    this.answers.delete(question);
    this.answers.set(question, answer);
    return answer;
  }

  keep(question: string, answer: A): void {
    this.answers.delete(question);
    this.answers.set(question, answer);
    const [oldest] = this.answers.keys();
    if (this.answers.size > this.most && oldest !== undefined) this.answers.delete(oldest);
  }
}
