// Another tab has kept something of what this page shows: the page comes anew, at once or after what is typed here is kept,
// so that nobody types over what she cannot see.
import { say } from './say.js';

export function followTabs(keeper) {
  const typing = () => Object.keys(keeper.entries).length > 0;
  const comeAnew = () => { say('Changed in another tab; this one follows.'); location.reload(); };
  const { kept } = keeper.hears;
  let behind = false;
  keeper.hears.kept = (told, entries) => {
    kept?.(told, entries);
    if (behind && !typing()) comeAnew();
  };
  keeper.onElsewhere(() => { if (typing()) behind = true; else comeAnew(); });
}
