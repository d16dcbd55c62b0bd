/** Every word of the screens is there before a test begins, as in the app right after its first screen. */
import '../src/format/later-messages.ts';
