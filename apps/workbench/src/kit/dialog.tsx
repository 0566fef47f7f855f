import type { ReactNode } from 'react';
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { Button } from './button.js';

export interface SheetDialogProps {
  readonly title: string;
  readonly isOpen: boolean;
  readonly onClose: () => void;
  readonly children: ReactNode;
  /** `wide` for previews and comparisons. */
  readonly size?: 'narrow' | 'wide';
}

/** A leaf laid over the page; Escape or the button closes it and focus goes back to where it was. */
export function SheetDialog({ title, isOpen, onClose, children, size = 'narrow' }: SheetDialogProps) {
  return (
    <ModalOverlay className="kit-overlay" isOpen={isOpen} isDismissable onOpenChange={(open) => open || onClose()}>
      <Modal className={`kit-modal kit-modal-${size}`}>
        <Dialog className="kit-dialog">
          <header className="kit-dialog-head">
            <Heading slot="title">{title}</Heading>
            <Button look="plain" onPress={onClose}>
              Close
            </Button>
          </header>
          {children}
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
