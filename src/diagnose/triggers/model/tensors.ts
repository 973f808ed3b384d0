/** What the cause model uses of TensorFlow. */
export type Tensors = typeof import('@tensorflow/tfjs-core') & typeof import('@tensorflow/tfjs-layers');

let loading: Promise<Tensors> | undefined;

/**
 * TensorFlow, loaded when first needed and chosen here alone: with its native library where that loads, otherwise the
 * same version in plain JavaScript. Both compute in 32-bit floats and give the same probabilities within 1e-4.
 */
export function tensors(): Promise<Tensors> {
  loading ??= native().catch(() => plain());
  return loading;
}

/** An optional dependency, whose library is fetched when it is installed: neither compiler nor program may ask for it. */
export async function native(): Promise<Tensors> {
  const name: string = '@tensorflow/tfjs-node';
  return (await import(name)) as Tensors;
}

export async function plain(): Promise<Tensors> {
  const core = await import('@tensorflow/tfjs-core');
  core.enableProdMode(); // without its advertisement for the native library
  await import('@tensorflow/tfjs-backend-cpu');
  const layers = await import('@tensorflow/tfjs-layers');
  await core.setBackend('cpu');
  return { ...core, ...layers };
}
