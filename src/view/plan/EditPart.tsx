export function EditPart() {
  return null;
}
