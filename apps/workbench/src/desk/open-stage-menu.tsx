import type { JobStage } from '@gapwright/records';
import { Button, Menu, MenuItem, MenuTrigger, Popover, Text } from 'react-aria-components';
import { movesFrom, STAGE_WORDS } from './stages.js';

export interface StageMenuProps {
  readonly title: string;
  readonly stage: JobStage;
  readonly onMove: (stage: JobStage) => void;
}

/** The menu behind `StageMenu`, open from the start. */
export default function OpenStageMenu({ title, stage, onMove }: StageMenuProps) {
  return (
    <MenuTrigger defaultOpen>
      <Button className="kit-button kit-button-quiet desk-move" aria-label={`Move on: ${title}`}>
        Move on <span aria-hidden="true">▾</span>
      </Button>
      <Popover className="kit-popover" placement="bottom end">
        <Menu className="kit-list" onAction={(key) => onMove(String(key) as JobStage)}>
          {movesFrom(stage).map((to) => (
            <MenuItem key={to} id={to} className="kit-list-item" textValue={STAGE_WORDS[to].move}>
              <Text slot="label">{STAGE_WORDS[to].move}</Text>
              <Text slot="description" className="kit-hint">
                {to === 'closed' ? 'Nothing is deleted; it stays under Closed' : `goes to “${STAGE_WORDS[to].heading}”`}
              </Text>
            </MenuItem>
          ))}
        </Menu>
      </Popover>
    </MenuTrigger>
  );
}
