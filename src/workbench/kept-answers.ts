/** The latest answers, so that asking again is free. */
export class KeptAnswers<T> {
  private readonly answers = new Map<string, T>();

  /** @param most that are kept */
  constructor(private readonly most: number) {}

  /** The answer under this key, worked out where it is not there; nothing is kept of what fails. */
  async of(key: string, work: () => Promise<T>): Promise<T> {
    const kept = this.answers.get(key);
    const answer = kept ?? (await work());
    this.answers.delete(key);
    this.answers.set(key, answer);
    for (const oldest of this.answers.keys()) {
      if (this.answers.size <= this.most) break;
      this.answers.delete(oldest);
    }
    return answer;
  }
}
