// What stands under a room's drawing: one line each, opened where it is asked for. What is costly (drawings) is made when
// it is first opened.

import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

interface Props {
  title: string;
  note?: string | undefined; // what is in it, in a few words
  open?: boolean;
  lazy?: boolean;
  children: ComponentChildren;
}

export function Fold(props: Props) {
  const [opened, setOpened] = useState(props.open ?? false);
  return (
    <details class="fold" open={props.open} onToggle={(e) => { if (e.currentTarget.open) setOpened(true); }}>
      <summary><span>{props.title}</span>{props.note && <span class="quiet">{props.note}</span>}</summary>
      <div class="fold-in">{!props.lazy || opened ? props.children : null}</div>
    </details>
  );
}
