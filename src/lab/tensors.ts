import { createRequire } from 'node:module';
import { dirname } from 'node:path';

/** What learning uses of TensorFlow. */
export type Tensors = typeof import('@tensorflow/tfjs-core') & typeof import('@tensorflow/tfjs-layers');

let loading: Promise<Tensors> | undefined;

/**
 * TensorFlow, loaded when first needed and chosen here alone: with its native library where that loads, otherwise the
 * same version in WebAssembly, and last in plain JavaScript. All compute in 32-bit floats.
 */
export function tensors(): Promise<Tensors> {
  loading ??= native()
    .catch(() => on('wasm'))
    .catch(() => on('cpu'));
  return loading;
}

/** An optional dependency, whose library is fetched when it is installed: neither compiler nor program may ask for it. */
export async function native(): Promise<Tensors> {
  const name: string = '@tensorflow/tfjs-node';
  return (await import(name)) as Tensors;
}

/**
 * Without the native library. There is one engine for both: the one asked for last computes for all who hold it.
 *
 * @throws where this backend does not start
 */
export async function on(backend: 'wasm' | 'cpu'): Promise<Tensors> {
  const core = await import('@tensorflow/tfjs-core');
  core.enableProdMode(); // without its advertisement for the native library
  if (backend === 'wasm') {
    const { setWasmPaths } = await import('@tensorflow/tfjs-backend-wasm');
    setWasmPaths(`${dirname(createRequire(import.meta.url).resolve('@tensorflow/tfjs-backend-wasm'))}/`);
  } else {
    await import('@tensorflow/tfjs-backend-cpu');
  }
  const layers = await import('@tensorflow/tfjs-layers');
  if (!(await core.setBackend(backend))) throw new Error(`the ${backend} backend does not start`);
  return { ...core, ...layers };
}
