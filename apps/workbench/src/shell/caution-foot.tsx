/** What this tool is and is not, on every page and every print of one. */
export function CautionFoot() {
  return (
    <footer className="shell-foot">
      <p>
        Gapwright advises; it starts no machine and certifies nothing. The machine maker’s manual, local codes and
        licensed practice come first.
      </p>
    </footer>
  );
}
