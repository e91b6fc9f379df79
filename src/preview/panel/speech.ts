/** Says something once to who listens instead of looks: a live region that is polite. */
export interface Speech {
  say(text: string): void;
}

/** Speech through a live region that is in the page from its start. */
export function makeSpeech(region: HTMLElement): Speech {
  let isOdd = false;
  return {
    say(text) {
      if (text === "") return;
      // The same sentence twice is only spoken again where the text differs: a no-break space makes it so.
      isOdd = !isOdd;
      region.textContent = isOdd ? text : `${text}\u00a0`;
    },
  };
}

/** What is said of a design's verdict: once when it comes, and again only when it is another. */
export function makeVerdictTeller(): (design: string | undefined, words: string) => string | undefined {
  let told = "";
  return (design, words) => {
    if (words === "") return undefined;
    const sentence = `${design} ${words}`;
    if (sentence === told) return undefined;
    told = sentence;
    return words;
  };
}

/**
 * What is said of a build when it ended, once per version: not while it goes on. `words` is the picture in words.
 */
export function makeBuildTeller(): (
  phase: string | undefined,
  version: number,
  words: string,
) => string | undefined {
  let told = "";
  return (phase, version, words) => {
    if ((phase !== "ready" && phase !== "failed") || words === "") return undefined;
    const sentence = `${version} ${words}`;
    if (sentence === told) return undefined;
    told = sentence;
    return words;
  };
}
