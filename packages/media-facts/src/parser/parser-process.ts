import { loadLibrary } from '../library/ask-library.ts';
import { answerQuestion } from './answer-question.ts';
import type { Answer, Question } from './parser-messages.ts';

// The entry of a parser: the throw-away process in which files of unknown origin are taken apart. It answers one question at
// a time, ends with its parent, and may be killed at any moment. It loads nothing that it does not need, since it is started often.

// A terminal's Ctrl-C reaches children too; when to end is the parent's decision.
process.on('SIGINT', () => undefined);
process.on('SIGTERM', () => undefined);
process.on('disconnect', () => process.exit());

const askLibrary = await loadLibrary();
// The parent is the only one that sends, and its type is the same.
process.on('message', (question: Question) => {
  void answerQuestion(question, askLibrary).then(send);
});
send({ kind: 'ready' });

function send(answer: Answer): void {
  process.send?.(answer);
}
