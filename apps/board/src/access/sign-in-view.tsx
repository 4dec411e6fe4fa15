import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { isSignedOut, sentenceOf } from '../service/service-trouble.ts';
import { signIn } from '../service/sign-in.ts';

/** Asks for the token, once for each browser. The field is emptied as soon as it was sent. */
export function SignInView({ signedIn }: { readonly signedIn: () => void }): JSX.Element {
  const [token, setToken] = useState('');
  const [trouble, tell] = useState('');
  const send = async (event: Event): Promise<void> => {
    event.preventDefault();
    const given = token.trim();
    if (given === '') return tell('Paste the token first.');
    setToken('');
    try {
      await signIn(given);
      signedIn();
    } catch (error) {
      tell(isSignedOut(error) ? WRONG : sentenceOf(error));
    }
  };
  return (
    <main class="sign-in">
      <h1>Quayside</h1>
      <p>
        This page shows which drives may be recorded over. To see it, give the token of the service: the content of the
        file <code>token</code> in its data folder.
      </p>
      <form onSubmit={(event) => void send(event)}>
        <label for="token">Token</label>
        <input
          id="token"
          type="password"
          autocomplete="off"
          spellcheck={false}
          value={token}
          aria-describedby="sign-in-trouble"
          onInput={(event) => setToken(event.currentTarget.value)}
        />
        <button type="submit">Sign in</button>
        <p id="sign-in-trouble" role="alert" class="failure">
          {trouble}
        </p>
      </form>
      <p class="quiet">
        The token is not kept. This browser stays signed in for thirty days, or until you sign out. Until then, no drive
        is known to be clear here.
      </p>
    </main>
  );
}

const WRONG = 'That is not the token of this service. Copy it again, whole.';
