export function CascadePart() {
  return null;
}
