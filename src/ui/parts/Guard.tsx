import { Component, type ReactNode } from 'react';
import { Button } from 'react-aria-components';
import { AppContext } from '../app';

interface Props {
  /** What stopped, at the head of a sentence: "The plan". */
  readonly what: string;
  readonly children: ReactNode;
}

/** Holds a fault of one part of the page to that part. The scene lives in its store and is not touched. */
export class Guard extends Component<Props, { readonly fault: string | null }> {
  static override contextType = AppContext;
  declare context: React.ContextType<typeof AppContext>;
  override state: { readonly fault: string | null } = { fault: null };

  static getDerivedStateFromError(thrown: unknown): { readonly fault: string } {
    return { fault: thrown instanceof Error ? thrown.message : String(thrown) };
  }

  override render(): ReactNode {
    const { fault } = this.state;
    if (fault === null) return this.props.children;
    const canUndo = (this.context?.document.getState().history.past.length ?? 0) > 0;
    const again = (): void => this.setState({ fault: null });
    return (
      <div className="guard" role="alert">
        <p>
          {this.props.what} stopped: {fault.replace(/\.$/, '')}. The scene is safe.
        </p>
        <div className="buttons">
          <Button className="button main" onPress={again}>
            Try again
          </Button>
          {canUndo && (
            <Button
              className="button"
              onPress={() => {
                this.context?.actions.undo();
                again();
              }}
            >
              Undo
            </Button>
          )}
          <Button className="button" onPress={() => this.context?.actions.keepCopy()}>
            Keep a copy
          </Button>
        </div>
      </div>
    );
  }
}
