import './sheet.css';
import './price/price.css';
import type { OfferRecord } from '@gapwright/records';
import { useState } from 'react';
import { Link } from 'react-router';
import { useJob } from '../keeping/index.js';
import { KeptSheet } from './history/kept-sheet.js';
import { LiveSheet } from './live-sheet.js';

/** The whole of one job on one sheet. */
export function JobSheet({ jobId }: { readonly jobId: string }) {
  const job = useJob(jobId);
  const [offer, setOffer] = useState<OfferRecord | null>(null);
  if (job === undefined) {
    return (
      <section className="shell-leaf">
        <h1>This device does not have this job</h1>
        <p>
          It may be on its way from the server, or it was made on another device that has not sent it yet.{' '}
          <Link to="/">Go to the desk</Link>.
        </p>
      </section>
    );
  }
  if (offer !== null) return <KeptSheet key={offer.id} job={job} offer={offer} onClose={() => setOffer(null)} />;
  return <LiveSheet job={job} onOpenOffer={setOffer} />;
}
