// oxlint-disable-next-line import/no-unassigned-import -- it must be done before any schema is made
import './without-eval.ts';
import { render } from 'preact';
import { App } from './page/app.tsx';
import { keptPerson } from './page/person.ts';
import { type BoardState, NOTHING_KNOWN } from './picture/board-state.ts';
import { createStore } from './picture/store.ts';
import { serviceOfPage } from './service/call-service.ts';
import { keptKey } from './service/sign-in.ts';

const root = document.getElementById('page');
// With a sign-in it looks at once; whether that still holds, the first look tells.
const store = createStore<BoardState>({ ...NOTHING_KNOWN, access: keptKey() === null ? 'asking' : 'signed-in' });
if (root !== null) render(<App service={serviceOfPage(location.origin, keptKey, keptPerson)} store={store} />, root);
