import { signal } from '@preact/signals';
import { clip } from './clip.js';

/**
 * State in hand that belongs to the open clip: under another it is what it is at first. On the way back it is there again,
 * unless something was taken in hand meanwhile.
 */
export class OfClip<T> {
  private readonly held = signal<{ clip: string; now: T } | null>(null);

  constructor(private readonly first: T) {}

  get value(): T {
    const { value } = this.held;
    return value && value.clip === clip.value?.id ? value.now : this.first;
  }

  set value(now: T) {
    const open = clip.peek();
    this.held.value = open && { clip: open.id, now };
  }
}
