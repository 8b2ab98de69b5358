import type { ChainModel } from '../language/chain-model.ts';
import type { Language } from '../language/language.ts';
import { openingsOf } from '../notes/openings.ts';
import { readForNotes } from '../notes/reading.ts';
import { findStatements } from '../statements/find-statements.ts';
import type { Statement } from '../statements/statement.ts';
import { crossFitted } from './cross-fitting.ts';
import { fitChain } from './fit-chain.ts';
import { type Choice, fitChoice } from './fit-choice.ts';
import { openingExamples } from './opening-examples.ts';
import { type PointChoices, pointChoices } from './point-choices.ts';
import type { Prepared } from './prepare.ts';

const FOLDS = 4;

/** A critique as models read it that had not seen it. */
export interface Heard {
  readonly one: Prepared;
  readonly language: Language;
  readonly statements: readonly Statement[];
}

/**
 * Fits the models that make points of statements: where a new one opens, which earlier one is come back to, which is taken
 * back. They learn from talk as it will reach them, cut and understood by models that had not seen it, and for the last
 * two from a person's own cuts as well.
 */
export function fitPoints(
  prepared: readonly Prepared[],
  unseen: (one: Prepared) => Language,
): Map<string, ChainModel> {
  const heard = prepared.map((one): Heard => {
    const language = unseen(one);
    return { one, language, statements: findStatements(one.transcript, one.shot, language) };
  });
  const heardOf = new Map(heard.map((each) => [each.one, each]));
  const openings = (seen: readonly Prepared[]): ChainModel =>
    fitOpening(seen.flatMap((one) => heardOf.get(one) ?? []));
  const opened = crossFitted(prepared, unseen, 'opening', openings, FOLDS);
  const walks = heard.flatMap(({ one, statements }): { name: string; walk: PointChoices }[] => {
    const language = opened(one);
    const reading = readForNotes(one.transcript, statements, one.shot, language);
    const { name } = one.critique;
    return [
      { name, walk: pointChoices(one, language, one.statements) },
      { name, walk: pointChoices(one, language, statements, openingsOf(reading)) },
    ];
  });
  const chosen = (of: (walk: PointChoices) => readonly Choice[], pull: number): ChainModel => {
    const choices = walks.flatMap(({ name, walk }) => of(walk).map((choice) => ({ name, choice })));
    return fitChoice(
      choices.map((each) => each.choice),
      choices.map((each) => each.name),
      { pull, leastGroups: 2 },
    );
  };
  return new Map([
    ['opening', openings(prepared)],
    ['join', chosen((walk) => walk.join, 2)],
    ['take-back', chosen((walk) => walk.takeBack, 1)],
  ]);
}

function fitOpening(heard: readonly Heard[]): ChainModel {
  const examples = heard.flatMap(({ one, language, statements }) =>
    openingExamples(one, language, statements).map((example) => ({ name: one.critique.name, example })),
  );
  return fitChain(
    examples.map(({ example }) => ({ items: [example.features], labels: [example.label] })),
    examples.map(({ name }) => name),
    ['opens', 'goes on'],
    { leastGroups: 2 },
  );
}
