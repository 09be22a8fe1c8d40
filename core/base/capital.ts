/** The words with a capital letter in front: a clause as it begins a sentence. */
export function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
