/** Position of the last item that `holds`, or -1. */
export function lastIndexWhere<T>(items: readonly T[], holds: (item: T) => boolean): number {
  let index = items.length - 1;
  while (index >= 0 && !holds(items[index])) index -= 1;
  return index;
}
