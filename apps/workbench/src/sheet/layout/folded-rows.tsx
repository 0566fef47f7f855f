import { type ReactNode, useState } from 'react';
import { Button } from '../../kit/index.js';

/** Rows shown before the rest is asked for; more would make the sheet hard to read and slow to lay out. */
const ROWS_SHOWN = 24;

interface FoldedRowsProps<T> {
  readonly rows: readonly T[];
  readonly columns: number;
  readonly row: (item: T, index: number) => ReactNode;
}

/** The body of a table; a long one shows its beginning and a way to the rest. */
export function FoldedRows<T>({ rows, columns, row }: FoldedRowsProps<T>) {
  const [isWhole, setWhole] = useState(false);
  const isLong = rows.length > ROWS_SHOWN;
  const shown = isLong && !isWhole ? rows.slice(0, ROWS_SHOWN) : rows;
  return (
    <>
      <tbody>{shown.map(row)}</tbody>
      {isLong ? (
        <tbody className="no-print">
          <tr>
            <td colSpan={columns}>
              <Button look="plain" onPress={() => setWhole(!isWhole)}>
                {isWhole ? `Show the first ${ROWS_SHOWN} only` : `Show all ${rows.length} rows`}
              </Button>
            </td>
          </tr>
        </tbody>
      ) : null}
    </>
  );
}
