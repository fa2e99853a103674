/** What a session says aloud, and the short tones by which one hears without looking whether a number was taken. */

/** Undefined where the browser can't speak. */
function voice(): SpeechSynthesis | undefined {
  return globalThis.speechSynthesis;
}

export function canSpeak(): boolean {
  return voice() !== undefined && typeof SpeechSynthesisUtterance !== "undefined";
}

/** Speaks at once; what was being said is cut short, as the line it named is no longer asked for. @param language BCP 47 */
export function speakAloud(text: string, language: string): void {
  const speaker = voice();
  if (speaker === undefined || !canSpeak()) return;
  speaker.cancel();
  const utterance = new SpeechSynthesisUtterance(text);
  utterance.lang = language;
  speaker.speak(utterance);
}

export function hush(): void {
  voice()?.cancel();
}

export type Tone = "taken" | "doubtful" | "not taken";

/** One high tone, two low ones, one long low one: told apart by number and length, not by pitch alone [Hz, s from now, s]. */
const TONES: Readonly<Record<Tone, readonly (readonly [hz: number, atS: number, lastsS: number])[]>> = {
  taken: [[880, 0, 0.09]],
  doubtful: [
    [330, 0, 0.16],
    [330, 0.24, 0.16],
  ],
  "not taken": [[220, 0, 0.45]],
};

let audio: AudioContext | undefined;

/** Sounds a tone; silent where the browser has no sound or the page may not use it yet. */
export function sound(tone: Tone): void {
  try {
    audio ??= new AudioContext();
    const { currentTime } = audio;
    for (const [hz, at, lasts] of TONES[tone]) {
      const oscillator = new OscillatorNode(audio, { frequency: hz, type: "triangle" });
      const gain = new GainNode(audio, { gain: 0 });
      const from = currentTime + at;
      gain.gain.setValueAtTime(0, from);
      gain.gain.linearRampToValueAtTime(0.25, from + 0.01);
      gain.gain.setValueAtTime(0.25, from + lasts - 0.02);
      gain.gain.linearRampToValueAtTime(0, from + lasts);
      oscillator.connect(gain).connect(audio.destination);
      oscillator.start(from);
      oscillator.stop(from + lasts);
    }
  } catch {
    // The screen says the same.
  }
}
