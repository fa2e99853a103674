export function BuildPart() {
  return null;
}
