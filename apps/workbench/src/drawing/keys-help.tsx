const KEYS: readonly (readonly [string, string])[] = [
  ['f', 'whole drawing (also double-click)'],
  ['+ −', 'closer, farther (also wheel or pinch)'],
  ['← ↑ → ↓', 'move the drawing (also drag)'],
  ['n p', 'point at the next or previous feature or mark'],
  ['Enter', 'pick what is pointed at'],
  [
    'm',
    'measure: arrows move the cross, with Shift finely; n and p go along ends, middles and centres; Enter sets a point',
  ],
  ['Esc', 'stop measuring, or pick nothing'],
  ['Space', 'run or pause the erosion; . and , go by program line, t and T by touch'],
];

/** The pane's keys. */
export function KeysHelp() {
  return (
    <details className="drawing-legend">
      <summary>Keys</summary>
      <dl className="drawing-keys">
        {KEYS.map(([keys, does]) => (
          <div key={keys}>
            <dt>
              {keys.split(' ').map((key) => (
                <kbd key={key}>{key}</kbd>
              ))}
            </dt>
            <dd>{does}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}
