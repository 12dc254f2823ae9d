/** Random names from the browser's cryptographic source; written so that they fit a header and a JSON string. */

export function randomId(bytes) {
  const drawn = crypto.getRandomValues(new Uint8Array(bytes));
  return btoa(String.fromCharCode(...drawn)).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}
