import { html, LitElement } from 'lit';
import { property } from 'lit/decorators.js';
import { styleMap } from 'lit/directives/style-map.js';
import { baseStyles } from '../shared-styles.ts';
import { colourPatchStyles } from './colour-patch-styles.ts';

/**
 * The colour that a coated lens shows, as a lens held to the light rather than as a swatch.
 *
 * @element cw-colour-patch
 * @property colour - what is shown, `#rrggbb`; empty while none is known
 * @property previous - the colour before the last edit, shown as a rim; empty for none
 * @property label - what the colour is of, such as "Residual colour, D65, 0°"
 * @property detail - figures beside it, such as "L* 4.1, a* 2.0, b* −6.3"
 * @csspart lens - the round patch
 */
export class ColourPatchElement extends LitElement {
  static override styles = [baseStyles, colourPatchStyles];

  @property() colour = '';
  @property() previous = '';
  @property() label = 'Residual colour';
  @property() detail = '';

  override render() {
    const colours = {
      '--shown': this.colour || 'transparent',
      '--before': this.previous || this.colour || 'transparent',
    };
    return html`
      <span part="lens" class="lens ${this.colour ? '' : 'open'}" style=${styleMap(colours)}></span>
      <span class="words">
        <span>${this.label}</span>
        <span class="detail">${this.colour || 'not known yet'}${this.detail ? html`, ${this.detail}` : ''}</span>
      </span>
    `;
  }
}
