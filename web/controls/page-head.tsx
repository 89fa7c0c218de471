/** The sentence of a page beside the bowl. What it says more is read out when it changes. */
export interface PageHeadProps {
  readonly act: string;
  readonly detail: string;
}

export function PageHead({ act, detail }: PageHeadProps) {
  return (
    <header class="headline">
      <div class="headline-words">
        <h1 class="act step-full">{act}</h1>
        <p class="detail step-full" role="status">
          {detail}
        </p>
      </div>
    </header>
  );
}
