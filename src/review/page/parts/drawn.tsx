/** SVG text from the drawing parts that report and page share; it was escaped where it was made. */
export function Drawn({ svg, class: name }: { readonly svg: string; readonly class?: string }) {
  return <div class={name ?? "drawn"} dangerouslySetInnerHTML={{ __html: svg }} />;
}
