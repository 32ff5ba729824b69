/** The environment that FFmpeg and ffprobe run in. */

/** A folder that is not there: no character-set converter is found in it. */
const NO_CONVERTERS = '/nonexistent';

/**
 * This program's environment, with the C library's character-set converters out of reach.
 *
 * Packaged builds of FFmpeg are linked statically; when a transport stream names its service, they load the converters
 * of the machine's own C library, which is of another version, and crash. Names of services are not needed here.
 */
export function toolEnvironment(): NodeJS.ProcessEnv {
  return { ...process.env, GCONV_PATH: process.env.GCONV_PATH ?? NO_CONVERTERS };
}

/** The same for a driver that starts programs in the environment of this one and takes no other. */
export function shareToolEnvironment(): void {
  process.env.GCONV_PATH ??= NO_CONVERTERS;
}
