import type { ReactNode } from 'react';
import { Button, Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';

interface Props {
  readonly title: string;
  readonly isOpen: boolean;
  readonly onClose: () => void;
  readonly isWide?: boolean;
  /** Buttons before the one that closes. */
  readonly beside?: ReactNode;
  readonly children: ReactNode;
}

/** A dialog whose matter takes effect as it is edited, or is only read: it is closed, not confirmed. */
export function ClosableDialog({ title, isOpen, onClose, isWide = false, beside, children }: Props) {
  return (
    <ModalOverlay className="veil" isOpen={isOpen} isDismissable onOpenChange={(next) => !next && onClose()}>
      <Modal>
        <Dialog className={isWide ? 'dialog wide' : 'dialog'}>
          <Heading slot="title" level={2}>
            {title}
          </Heading>
          {children}
          <div className="buttons">
            {beside}
            <Button className="button main" onPress={onClose}>
              Close
            </Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
