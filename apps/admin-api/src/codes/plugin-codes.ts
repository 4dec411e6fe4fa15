import type { Codes } from './code-entry.ts';

const ASK =
  'See the log of the run (`quayside runs`), and ask the author of the plugin. Footage and verdicts are not touched by it.';

/** About plugins that a studio adds. What a plugin tells under a code of its own begins with its name. */
export const PLUGIN_CODES = {
  PLUGIN_API_VERSION: {
    meaning: 'The plugin was written for a version of the contract that this Quayside does not run.',
    remedy: 'Install a version of the plugin that fits, or another Quayside.',
  },
  PLUGIN_BAD_CONFIG: {
    meaning: 'The configuration of a step does not fit the schema that the plugin states.',
    remedy: 'Correct it under `plugins` in the configuration; the message names the place.',
  },
  PLUGIN_BAD_OUTPUT: { meaning: "A step's output does not fit the schema that it states.", remedy: ASK },
  PLUGIN_BREACH: {
    meaning: 'A step said or sent something that no honest step does, and was stopped.',
    remedy: 'Do not use this plugin before its author has explained that.',
  },
  PLUGIN_BROKEN: { meaning: 'The plugin cannot be loaded.', remedy: 'Correct it as the message says, or turn it off.' },
  PLUGIN_CHANGED: { meaning: 'The plugin has no longer the step that was to run.', remedy: 'Start the service again.' },
  PLUGIN_CLASH: {
    meaning: 'Two plugins in use have the same name; the second is left out.',
    remedy: 'Turn one of them off under `plugins` in the configuration.',
  },
  PLUGIN_CYCLE: {
    meaning: 'Steps of plugins wait for each other, so none of them can run.',
    remedy: 'Turn off one of the plugins that the message names, and ask its author.',
  },
  PLUGIN_DENIED: {
    meaning: 'A step tried something to which it has no right.',
    remedy: 'If it is meant to, let it ask for that and grant it under `plugins` in the configuration.',
  },
  PLUGIN_EXITED: { meaning: "A step's process ended before it had answered.", remedy: ASK },
  PLUGIN_GRANT_MISSING: {
    meaning: 'A step asks for a right that is not granted, so its plugin is left out.',
    remedy: 'If you trust it with that, add it to the `grants` of the plugin in the configuration.',
  },
  PLUGIN_INVALID: { meaning: 'The plugin does not keep the contract of the SDK.', remedy: ASK },
  PLUGIN_FOLDER_TAKEN: {
    meaning: 'The folder of a new plugin could not be made, or is there already.',
    remedy: 'Give another name, or another place with `--in`.',
  },
  PLUGIN_NAME_INVALID: {
    meaning: 'A plugin cannot have this name.',
    remedy: 'Use lower-case letters, digits and hyphens, 64 at most.',
  },
  PLUGIN_NOT_FOUND: {
    meaning: 'There is no plugin where the configuration says.',
    remedy: 'Correct `use` under `plugins`, or install the package.',
  },
  OUTPUT_COPY_DIFFERS: {
    meaning: 'A copy of what a step left is not what it was made from, so it is not kept.',
    remedy: 'Nothing at first: it is tried again. Look at that disk when it happens again.',
  },
  PLUGIN_OUTPUT_REFUSED: { meaning: 'What a step left in its output folder cannot be filed.', remedy: ASK },
  PLUGIN_OUT_OF_MEMORY: {
    meaning: 'A step used more than its memory and was stopped.',
    remedy: 'Raise `limits.memoryMb` of the step if that is not enough.',
  },
  PLUGIN_PATH_UNFENCEABLE: {
    meaning: 'A path holds "*", so that no right to it alone can be given.',
    remedy: 'Rename the folder.',
  },
  PLUGIN_SECRET_MISSING: {
    meaning: 'A step needs a secret that is not set, so its plugin is left out.',
    remedy: 'Set it under `secrets` of the plugin in the configuration.',
  },
  PLUGIN_STEP_UNKNOWN: {
    meaning: 'A step comes after one that no plugin in use has, so its plugin is left out.',
    remedy: 'Turn on the plugin that has it, or ask the author of this one.',
  },
  PLUGIN_THREW: { meaning: 'A step failed and did not say why in a way of its own.', remedy: ASK },
  PLUGIN_TIMED_OUT: {
    meaning: 'A step took longer than its time and was stopped.',
    remedy: 'Raise `limits.seconds` of the step if that is not enough.',
  },
  PLUGIN_SDK_NOT_PACKED: {
    meaning: 'The SDK could not be built and packed for a new plugin.',
    remedy: 'Run `npm ci` in the folder of Quayside, and try again.',
  },
} as const satisfies Codes;
