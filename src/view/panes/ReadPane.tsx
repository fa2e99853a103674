export function ReadPane() {
  return null;
}
