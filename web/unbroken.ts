/** One rule for all that is shown, whoever wrote it: a figure stays on one line with its unit. */
import { options } from 'preact';
import { unbroken } from './words/measure.ts';

/** From now on, wherever text stands in an element. Its attributes stay as they are. */
export function keepFiguresWhole(): void {
  options.vnode = ({ type, props }) => {
    if (typeof type !== 'string') return;
    const { children } = props;
    if (typeof children === 'string') props.children = unbroken(children);
    else if (Array.isArray(children)) props.children = children.map(ofText);
  };
}

function ofText<Child>(child: Child): Child | string {
  return typeof child === 'string' ? unbroken(child) : child;
}
