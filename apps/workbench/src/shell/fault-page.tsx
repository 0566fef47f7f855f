import { Component, type ReactNode } from 'react';
import { Button } from '../kit/button.js';

interface FaultPageProps {
  readonly children: ReactNode;
  /** When this changes (the address), the place is tried again. */
  readonly resetKey: string;
}

interface FaultState {
  readonly fault: Error | null;
  readonly where: string;
  readonly copied: 'no' | 'yes' | 'refused';
  readonly resetKey: string;
}

/** What somebody needs to find our fault; nothing of the job itself is in it. */
function faultReport(fault: Error, where: string): string {
  return [
    `Gapwright workbench, ${new Date().toISOString()}`,
    `Address: ${location.pathname}`,
    `Browser: ${navigator.userAgent}`,
    fault.stack ?? `${fault.name}: ${fault.message}`,
    where.trim(),
  ].join('\n');
}

const COPIED = {
  no: '',
  yes: 'Copied.',
  refused: 'The browser forbids copying; mark the text below instead.',
} as const;

/** True when a part of the page could not be fetched, rather than being faulty. */
function isMissingPart(fault: Error): boolean {
  return /dynamically imported module|module script failed|preload/i.test(fault.message);
}

/** Catches a fault of ours, so that one broken place does not take the page with it. */
export class FaultPage extends Component<FaultPageProps, FaultState> {
  override state: FaultState = { fault: null, where: '', copied: 'no', resetKey: this.props.resetKey };

  static getDerivedStateFromError(thrown: unknown): Partial<FaultState> {
    return { fault: thrown instanceof Error ? thrown : new Error(String(thrown)) };
  }

  static getDerivedStateFromProps(props: FaultPageProps, state: FaultState): Partial<FaultState> | null {
    return props.resetKey === state.resetKey ? null : { fault: null, copied: 'no', resetKey: props.resetKey };
  }

  override componentDidCatch(_thrown: Error, info: { readonly componentStack?: string | null }): void {
    this.setState({ where: info.componentStack ?? '' });
  }

  private copy(text: string): void {
    // The clipboard is missing where the page is not served from this computer or over TLS.
    const copying = navigator.clipboard?.writeText(text) ?? Promise.reject(new Error('no clipboard'));
    copying.then(
      () => this.setState({ copied: 'yes' }),
      () => this.setState({ copied: 'refused' }),
    );
  }

  override render(): ReactNode {
    const { fault, where, copied } = this.state;
    if (fault === null) return this.props.children;
    if (isMissingPart(fault))
      return (
        <section className="shell-leaf" role="alert">
          <h1>This place could not be fetched</h1>
          <p>
            The server does not answer, or has a newer version of the page. Load the page again; everything that was
            kept stays kept.
          </p>
          <p className="shell-actions">
            <Button look="main" onPress={() => location.reload()}>
              Load the page again
            </Button>
          </p>
        </section>
      );
    const text = faultReport(fault, where);
    return (
      <section className="shell-leaf" role="alert">
        <h1>This place stopped: our fault, not yours</h1>
        <p>
          Your jobs are kept up to the last change that was made; the words under “Keeping” say where. The other places
          still work.
        </p>
        <p className="shell-actions">
          <Button look="main" onPress={() => this.setState({ fault: null, copied: 'no' })}>
            Try again
          </Button>
          <Button onPress={() => this.copy(text)}>Copy a report</Button>
          <span role="status">{COPIED[copied]}</span>
        </p>
        <details open={copied === 'refused'}>
          <summary>What the report says</summary>
          <pre className="shell-report">{text}</pre>
        </details>
      </section>
    );
  }
}
