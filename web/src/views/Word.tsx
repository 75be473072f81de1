// A verdict in a word, with a sign and a colour beside it.

import { Icon, type IconName } from "./Icon";

const known = ["holds", "tight", "does not hold", "cannot be planned"];

export function Word({ word }: { word: string }) {
  if (word === "") return null;
  const kind = known.includes(word) ? word : "cannot be planned";
  return (
    <span class="word" data-word={kind}>
      <Icon name={kind as IconName} />
      {word}
    </span>
  );
}
