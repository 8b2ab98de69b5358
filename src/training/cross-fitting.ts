import type { ChainModel } from '../language/chain-model.ts';
import type { Language } from '../language/language.ts';
import type { Prepared } from './prepare.ts';

/** A language with some of its models replaced. */
export function withModels(language: Language, models: Iterable<readonly [string, ChainModel]>): Language {
  return { ...language, models: new Map([...language.models, ...models]) };
}

/** Shares languages out so that each critique is read with one model that has not seen it. */
export function crossFitted(
  prepared: readonly Prepared[],
  languageOf: (one: Prepared) => Language,
  name: string,
  modelOf: (seen: readonly Prepared[]) => ChainModel,
  folds: number,
): (one: Prepared) => Language {
  const models = Array.from({ length: folds }, (_, fold) =>
    modelOf(prepared.filter((__, i) => i % folds !== fold)),
  );
  const place = new Map(prepared.map((one, i) => [one, i % folds]));
  return (one) => {
    const model = models[place.get(one) ?? 0];
    return model ? withModels(languageOf(one), [[name, model]]) : languageOf(one);
  };
}
