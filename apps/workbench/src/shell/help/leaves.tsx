import type { ReactNode } from 'react';
import { useDisplay } from '../../units/index.js';
import type { PlaceId } from '../places.js';
import { interval80, kerfMm, meanOf, passOffsetMm, priceFromMargin } from './examples.js';
import { Worked } from './worked.js';

const WIRE_MM = 0.25;
const ROUGH_GAP_MM = 0.03;
const LATER_STOCK_MM = 0.055;
const FINISH_GAP_MM = 0.008;
const COST = 45;
const SCATTER = 0.2;
const MARGIN = 0.22;

const PRACTICE =
  'the offset is geometry; the gap of 0.03 mm for a 0.25 mm wire when roughing is common practice, until your own technology points say otherwise';

function DeskLeaf() {
  return (
    <>
      <p>
        The desk holds everything that waits for you. Drop drawings anywhere on it, choose them with <kbd>n</kbd>, or
        paste an enquiry with <kbd>Ctrl</kbd> <kbd>V</kbd>. Each drawing starts one enquiry; nothing is overwritten.
      </p>
      <h3>What a slip says</h3>
      <dl className="shell-words">
        <dt>2 questions open</dt>
        <dd>The drawing does not say all the plan needs. Open the slip and answer at the top of its sheet.</dd>
        <dt>plan stops</dt>
        <dd>
          Something forbids the plan: a radius no wire fits, a part too high. The sheet shows the place and a way out.
        </dd>
        <dt>price … each at 4, about 1 in 6 to lose money</dt>
        <dd>
          The price per piece when 4 are ordered, and how often the cost would exceed it. “Not proved yet” means that
          the program text has not been checked against the drawing.
        </dd>
        <dt>not planned on this device yet</dt>
        <dd>
          The slip shows what this device saw last; it does not plan every job again to fill a list. Open it once.
        </dd>
        <dt>invented</dt>
        <dd>Demo data. Papers carry the same mark.</dd>
      </dl>
      <h3>An example</h3>
      <p>
        Monday brings three drawings. Drop all three: three slips lie under “To read”. Answer material, height, finish,
        tolerance and quantity on each sheet; the prices appear on the slips. Send the offer, then “Move on” to “Offer
        sent”. When the order comes: “Ordered”. A wrong move goes back with <kbd>Ctrl</kbd> <kbd>Z</kbd>. Slips are
        never deleted; “Close” folds them away, and the search still finds them.
      </p>
    </>
  );
}

function SheetLeaf() {
  const { length } = useDisplay();
  const roughOffset = passOffsetMm(WIRE_MM, ROUGH_GAP_MM, LATER_STOCK_MM);
  const lastOffset = passOffsetMm(WIRE_MM, FINISH_GAP_MM, 0);
  const [low, high] = interval80(COST, SCATTER);
  const mean = meanOf(COST, SCATTER);
  return (
    <>
      <p>
        One job from top to bottom: drawing, route, operations, proof, price, promise, papers. Every figure can be
        clicked or tabbed to; its working stands in the margin. What the plan chose can be overruled in place, and the
        computed choice stays beside it with what yours costs.
      </p>
      <h3>Worked examples</h3>
      <Worked
        title="Where the wire runs"
        formula="offset = wire / 2 + gap + what later passes take"
        numbers={`rough: ${length(WIRE_MM)} / 2 + ${length(ROUGH_GAP_MM)} + ${length(LATER_STOCK_MM)}; last: ${length(WIRE_MM)} / 2 + ${length(FINISH_GAP_MM)}`}
        result={`${length(roughOffset)} for the rough cut, ${length(lastOffset)} for the last pass`}
        source={PRACTICE}
      >
        <p>An inside corner can be no sharper than the offset of the pass that forms it.</p>
      </Worked>
      <Worked
        title="Width of the cut"
        formula="kerf = wire + 2 × gap"
        numbers={`${length(WIRE_MM)} + 2 × ${length(ROUGH_GAP_MM)}`}
        result={length(kerfMm(WIRE_MM, ROUGH_GAP_MM))}
        source="by definition; the gap as above"
      />
      <Worked
        title="What an 80 % interval means"
        formula="low = median / e^(1.28 s), high = median × e^(1.28 s)"
        numbers={`cost per piece ${COST.toFixed(2)} EUR, scatter s = ${SCATTER}`}
        result={`${low.toFixed(2)} to ${high.toFixed(2)} EUR`}
        source="log-normal scatter; a tenth of a normal distribution lies beyond 1.28 standard deviations on each side"
      >
        <p>
          Of ten such jobs about eight end inside, one below and one above. The burn log shows whether our intervals
          keep that promise.
        </p>
      </Worked>
      <Worked
        title="The price from the margin rule"
        formula="price = expected cost / (1 − margin), and never below the smallest order / pieces"
        numbers={`${mean.toFixed(2)} / (1 − ${MARGIN})`}
        result={`${priceFromMargin(mean, MARGIN, 0, 1).toFixed(2)} EUR per piece`}
        source="common practice in contract shops; the margin is a rate of your shop book"
      >
        <p>
          The expected cost of {mean.toFixed(2)} lies above the median of {COST.toFixed(2)}, because burns run late more
          often than early.
        </p>
      </Worked>
      <Worked
        title="The chance of losing money"
        formula="share of many drawn costs that exceed the price"
        numbers={`price ${high.toFixed(2)} EUR, which is the upper end of the 80 % interval above`}
        result="about 1 in 10"
        source="by definition of the interval; the sheet counts it over its draws"
      />
    </>
  );
}

function FloorLeaf() {
  return (
    <>
      <p>
        The schedule is not built yet. Until then the floor adds up what is open on each machine, from the last plan of
        every job that is with the customer, to release, burning or to inspect.
      </p>
      <h3>How to read a line</h3>
      <p>
        Machine alone is the time it burns, threads and fills by itself; attended is the time somebody stands there. A
        machine is taken for both together. A touch is one moment that needs a person: setting up, taking out a slug,
        measuring.
      </p>
      <Worked
        title="How long a machine is taken"
        formula="taken = runs × (machine alone + attended)"
        numbers="3 runs, each 140 min alone and 25 min attended"
        result="8 h 15 min, of which 1 h 15 min needs somebody"
        source="by definition"
      />
    </>
  );
}

function BurnsLeaf() {
  return (
    <>
      <p>
        Enter what a burn really took beside what was expected. The log shows how far estimates were off, whether the
        intervals held, and what the shop book would believe next time.
      </p>
      <Worked
        title="Was the interval wide enough?"
        formula="coverage = burns inside their 80 % interval / all burns"
        numbers="31 of 40 burns inside"
        result="78 %, close to the 80 % that was promised"
        source="by definition; of 40 burns, 27 to 36 inside is no surprise even when the intervals are right"
      />
      <Worked
        title="One burn"
        formula="ratio = actual / expected"
        numbers="138 min / 120 min"
        result="1.15: it took 15 % longer"
        source="by definition"
      >
        <p>
          Ratios of the same machine, material or wire that lean one way are learned as that cause; a single burn moves
          little.
        </p>
      </Worked>
    </>
  );
}

function BookLeaf() {
  return (
    <>
      <p>
        What the shop has and believes: machines, wires, materials, cutting conditions with their source, rates, and how
        program text is written. Every change makes a new version; older ones stay, and an offer keeps the version it
        was made with.
      </p>
      <h3>Sources</h3>
      <dl className="shell-words">
        <dt>published</dt>
        <dd>Read in the named place.</dd>
        <dt>from memory</dt>
        <dd>The source we believe it is in; not read again.</dd>
        <dt>common practice</dt>
        <dd>The trade says so; there is no single source.</dd>
        <dt>shop</dt>
        <dd>Measured by you. It counts more than anything above.</dd>
      </dl>
      <Worked
        title="What a rate does to a price"
        formula="cost of the machine = hours × rate"
        numbers="2.75 h × 48 EUR/h; at 52 EUR/h it is 143.00"
        result="132.00 EUR; the higher rate adds 11.00 EUR"
        source="by definition; the rate is an invented starting value until you put in your own"
      />
    </>
  );
}

export const HELP_LEAVES: Readonly<Record<PlaceId, () => ReactNode>> = {
  desk: DeskLeaf,
  sheet: SheetLeaf,
  floor: FloorLeaf,
  burns: BurnsLeaf,
  book: BookLeaf,
};
