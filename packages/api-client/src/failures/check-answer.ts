import { answerOdd } from './no-answer-error.ts';

/** As a zod schema has it. */
interface Schema<Answer> {
  safeParse(
    answer: unknown,
  ): { readonly success: true; readonly data: Answer } | { readonly success: false; readonly error: unknown };
}

/**
 * An answer that must not merely be believed, because somebody may record over a drive for it: types are gone when it runs,
 * and a service of another version may answer otherwise.
 * @throws NoAnswerError `ANSWER_ODD` unless it is to the letter what the schema says.
 */
export function checkAnswer<Answer>(schema: Schema<Answer>, answer: unknown): Answer {
  const checked = schema.safeParse(answer);
  if (!checked.success) throw answerOdd(checked.error);
  return checked.data;
}
