// A process of its own for the race test: opens the store on its own connection and adds to one roll's `judgementDue`.
import { argv, exit } from 'node:process';
import { openStore } from './open-store.ts';

const [, , path = '', rollId = '', times = '0'] = argv;
const store = await openStore({ kind: 'socket', path });
for (let time = 0; time < Number(times); time += 1) {
  await store.changeRoll(rollId, (roll) => {
    if (roll === null) throw new Error('the roll is not there');
    return { ...roll, judgementDue: roll.judgementDue + 1 };
  });
}
await store.close();
exit(0);
