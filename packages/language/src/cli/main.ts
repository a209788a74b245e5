import { messageOf } from '../syntax/thrown.ts';
import { makeProgram } from './program.ts';
import { COULD_NOT_RUN, complain, Refusal } from './refuse.ts';

// Whoever reads our output may stop reading (`| head`): that ends the run, and is no error of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit();
  complain(`the output cannot be written: ${messageOf(error)}`);
  process.exit(COULD_NOT_RUN);
});

try {
  await makeProgram().parseAsync();
} catch (error) {
  // Of a defect of ours: never "clean", never a stack trace in the user's face.
  const messages = error instanceof Refusal ? error.messages : [`internal error: ${messageOf(error)}`];
  for (const message of messages) complain(message);
  if (process.env.FETTLE_DEBUG && error instanceof Error) process.stderr.write(`${error.stack}\n`);
  process.exitCode = COULD_NOT_RUN;
}
