import { html, LitElement } from 'lit';
import { property } from 'lit/decorators.js';
import { baseStyles } from '../shared-styles.ts';
import { verdictStyles } from './verdict-styles.ts';

/** An answer: the requirement holds, fails, holds with little to spare, or is not known yet. */
export type Verdict = 'met' | 'missed' | 'watch' | 'open';

const SIGN: Readonly<Record<Verdict, string>> = { met: '✓', missed: '✕', watch: '!', open: '…' };
const WORD: Readonly<Record<Verdict, string>> = {
  met: 'met',
  missed: 'missed',
  watch: 'met, with little to spare',
  open: 'not known yet',
};

/** The word that stands for a verdict wherever a sentence or a label needs one. */
export function verdictWord(verdict: Verdict): string {
  return WORD[verdict];
}

/** The sign of a verdict, which carries it where colour cannot. */
export function verdictSign(verdict: Verdict): string {
  return SIGN[verdict];
}

/**
 * Says met or missed by a sign, a word and a colour.
 *
 * @element cw-verdict
 * @property verdict - `met`, `missed`, `watch` or `open`
 * @slot - words in place of the usual ones, such as "0.38 % ≤ 0.40 %"
 * @csspart sign - the sign
 */
export class VerdictElement extends LitElement {
  static override styles = [baseStyles, verdictStyles];

  @property({ reflect: true }) verdict: Verdict = 'open';

  override render() {
    return html`
      <span part="sign" class="sign" aria-hidden="true">${SIGN[this.verdict]}</span>
      <span class="visually-hidden">${WORD[this.verdict]}:</span>
      <span><slot>${WORD[this.verdict]}</slot></span>
    `;
  }
}
