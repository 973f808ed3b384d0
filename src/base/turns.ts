/** Milliseconds of work after which a turn is due. */
const DUE_AFTER = 200;

/** Every host has it, Node as a browser; the types of neither are known in here. */
const { setTimeout } = globalThis as unknown as {
  setTimeout(act: () => void, milliseconds: number): unknown;
};

/**
 * Lets the host have its turn now and then during long work, so that it can handle what came meanwhile: signals, above all,
 * which otherwise end nothing until the work is done. `if (turns.due) await turns.take()` costs next to nothing.
 */
export class Turns {
  #last = Date.now();

  get due(): boolean {
    return Date.now() - this.#last >= DUE_AFTER;
  }

  async take(): Promise<void> {
    await new Promise<void>((done) => {
      setTimeout(done, 0);
    });
    this.#last = Date.now();
  }
}
