/**
 * A fill-reducing elimination order for a symmetric pattern: minimum degree on the quotient graph with
 * element absorption and approximate external degrees.
 *
 * @param adjacency for every vertex its neighbours, without itself, each pair present on both sides
 * @returns the vertices in the order in which they should be eliminated
 *
 * Source: P. R. Amestoy, T. A. Davis and I. S. Duff, "An approximate minimum degree ordering algorithm",
 * SIAM J. Matrix Anal. Appl. 17 (1996) 886–905; without supervariables, which our small graphs don't need.
 */
export function minimumDegreeOrder(adjacency: readonly (readonly number[])[]): Int32Array {
  const count = adjacency.length;
  const variables: number[][] = adjacency.map((neighbours) => neighbours.slice());
  const elements: number[][] = adjacency.map(() => []);
  const elementMembers: (number[] | undefined)[] = new Array(count);
  const eliminated = new Uint8Array(count);
  const degree = Int32Array.from(adjacency, (neighbours) => neighbours.length);
  const mark = new Int32Array(count).fill(-1);
  const outside = new Int32Array(count);
  const outsideStamp = new Int32Array(count).fill(-1);
  const buckets = new DegreeBuckets(count);
  for (let v = 0; v < count; v++) buckets.insert(v, degree[v] as number);

  const order = new Int32Array(count);
  for (let step = 0; step < count; step++) {
    const pivot = buckets.takeSmallest();
    order[step] = pivot;
    eliminated[pivot] = 1;
    // The new element: all that the pivot touches, directly or through older elements (which it absorbs).
    const members: number[] = [];
    mark[pivot] = step;
    for (const v of variables[pivot] as number[]) {
      if (eliminated[v] || mark[v] === step) continue;
      mark[v] = step;
      members.push(v);
    }
    for (const e of elements[pivot] as number[]) {
      const old = elementMembers[e];
      if (!old) continue;
      for (const v of old) {
        if (eliminated[v] || mark[v] === step) continue;
        mark[v] = step;
        members.push(v);
      }
      elementMembers[e] = undefined;
    }
    elementMembers[pivot] = members;
    variables[pivot] = [];
    elements[pivot] = [];

    // |Le \ Lp| for every element that a member touches.
    for (const v of members) {
      for (const e of elements[v] as number[]) {
        const old = elementMembers[e];
        if (!old) continue;
        if (outsideStamp[e] !== step) {
          outsideStamp[e] = step;
          outside[e] = old.reduce((alive, u) => alive + (eliminated[u] ? 0 : 1), 0);
        }
        outside[e] = (outside[e] as number) - 1;
      }
    }
    for (const v of members) {
      let bound = members.length - 1;
      const keptElements: number[] = [];
      for (const e of elements[v] as number[]) {
        if (!elementMembers[e]) continue;
        if ((outside[e] as number) === 0) {
          elementMembers[e] = undefined; // wholly inside the new element
          continue;
        }
        keptElements.push(e);
        bound += outside[e] as number;
      }
      keptElements.push(pivot);
      elements[v] = keptElements;
      const keptVariables: number[] = [];
      for (const u of variables[v] as number[]) {
        if (eliminated[u] || mark[u] === step) continue;
        keptVariables.push(u);
      }
      variables[v] = keptVariables;
      bound += keptVariables.length;
      const newDegree = Math.min(bound, count - step - 1);
      buckets.move(v, degree[v] as number, newDegree);
      degree[v] = newDegree;
    }
  }
  return order;
}

/** Vertices by degree, doubly linked, so that the smallest is found without sorting. */
class DegreeBuckets {
  private readonly head: Int32Array;
  private readonly next: Int32Array;
  private readonly previous: Int32Array;
  private smallest = 0;

  constructor(count: number) {
    this.head = new Int32Array(count + 1).fill(-1);
    this.next = new Int32Array(count).fill(-1);
    this.previous = new Int32Array(count).fill(-1);
  }

  insert(v: number, degree: number): void {
    const first = this.head[degree] as number;
    this.next[v] = first;
    this.previous[v] = -1;
    if (first >= 0) this.previous[first] = v;
    this.head[degree] = v;
    if (degree < this.smallest) this.smallest = degree;
  }

  private remove(v: number, degree: number): void {
    const before = this.previous[v] as number;
    const after = this.next[v] as number;
    if (before >= 0) this.next[before] = after;
    else this.head[degree] = after;
    if (after >= 0) this.previous[after] = before;
  }

  move(v: number, from: number, to: number): void {
    this.remove(v, from);
    this.insert(v, to);
  }

  takeSmallest(): number {
    while ((this.head[this.smallest] as number) < 0) this.smallest++;
    const v = this.head[this.smallest] as number;
    this.remove(v, this.smallest);
    return v;
  }
}
