import fc from 'fast-check';

/** Names that have broken other programs' files, each as one path segment. */
export const HOSTILE_NAMES: readonly string[] = [
  '<script>alert(1)</script>.mov',
  '"><img src=x onerror=alert(1)>.mov',
  "' onmouseover='alert(1)",
  '<!-- -->]]>.mov',
  '&lt;b&gt; &amp; &#60;.mov',
  "=cmd|' ! A0.mov",
  '@SUM(1+1)*cmd.mov',
  'x;=1+1,"-2".mov',
  '%2e%2e%2f#frag?query=1.mov',
  'tab\there\r\nand lines.mov',
  'pot\u202Evom.exe',
  'zero\u200Bwidth\uFEFF.mov',
  'e\u0301 and \u00E9.mov',
  '窯の中の様子 第1回 長い長い名前.mov',
  '🏺🔥👩\u200D🎨.mov',
  'lone \uD800 surrogate.mov',
  ' leading and trailing .mov ',
  `${'long '.repeat(50)}.mov`,
  '${name} {{name}} $& $1.mov',
  'C:\\clips\\a.mov',
];

/** A path segment of anything that a file system could hold, and more. */
export const anyName: fc.Arbitrary<string> = fc
  .oneof(fc.constantFrom(...HOSTILE_NAMES), fc.string({ unit: 'binary', minLength: 1, maxLength: 24 }))
  .map((name) => name.replaceAll('/', '_'))
  .filter((name) => name !== '.' && name !== '..');
