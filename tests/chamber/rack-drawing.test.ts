import { describe, expect, it } from 'vitest';
import { holderRing } from '../../src/chamber/holder.ts';
import { nestCircles } from '../../src/chamber/nest.ts';
import { drillingSvg, positionsCsv } from '../../src/chamber/rack-drawing.ts';

const rack = { rackDiameterMm: 200, rimMm: 5, webMm: 1 };
const { positions } = nestCircles({ ...rack, partDiameterMm: 60, pattern: 'best' });
const drawing = { ...rack, title: 'Rack <A> & "B"', part: { diameterMm: 60 }, positions };

describe('the drilling picture', () => {
  it('is to scale: its size in mm is that of its view box', () => {
    const svg = drillingSvg(drawing);
    expect(svg).toContain('width="224mm" height="244mm" viewBox="-112 -112 224 244"');
    expect(svg.match(/<circle r="30"\/>/g)?.length).toBe(positions.length);
  });

  it('turns y down for the screen and shows every number once', () => {
    const svg = drillingSvg({ ...drawing, positions: [{ xMm: 10, yMm: 20, angleDeg: 0 }] });
    expect(svg).toContain('translate(10 -20)');
    expect(svg).toContain('>1</text>');
  });

  it('shows rectangles turned, zones, and text that cannot break the file', () => {
    const svg = drillingSvg({
      ...drawing,
      part: { widthMm: 30, heightMm: 20 },
      positions: [{ xMm: 0, yMm: 0, angleDeg: 90 }],
      keepOut: [{ xMm: 5, yMm: 6, diameterMm: 4 }],
    });
    expect(svg).toContain('width="30" height="20" transform="rotate(-90)"');
    expect(svg).toContain('class="zone" cx="5" cy="-6" r="2"');
    expect(svg).toContain('<title>Rack &lt;A&gt; &amp; &quot;B&quot;</title>');
  });

  it('of one place is this file, with rim, cross, number, a bar of 50 mm and a caption', () => {
    const small = { rackDiameterMm: 100, rimMm: 5, part: { diameterMm: 12 } };
    const lines = drillingSvg({ ...small, title: 'A', positions: [{ xMm: 10, yMm: 20, angleDeg: 0 }] }).split(
      '\n',
    );
    expect(lines).toEqual([
      '<svg xmlns="http://www.w3.org/2000/svg" width="124mm" height="144mm" viewBox="-62 -62 124 144" role="img">',
      '<title>A</title>',
      '<style>circle,rect,path{fill:none;stroke:#000;stroke-width:.25}.rim{stroke-dasharray:2 1}.zone{fill:#ddd}text{font:4px sans-serif;text-anchor:middle}.caption{font-size:4px;text-anchor:start}</style>',
      '<circle r="50"/>',
      '<circle class="rim" r="45"/>',
      '<g transform="translate(10 -20)"><circle r="6"/><path d="M-2 0H2M0 -2V2"/><text y="5.6">1</text></g>',
      '<path d="M-50 62v-2v4v-2h50v-2v4"/>',
      '<text class="caption" x="-50" y="69">50 mm · A · 1 places · rack 100 mm</text>',
      '</svg>',
    ]);
    const [wide] = drillingSvg({
      ...{ ...small, rimMm: 60, title: 'B', part: { widthMm: 40, heightMm: 30 } },
      positions: [{ xMm: 0, yMm: 0, angleDeg: -30 }],
    }).match(/<circle class="rim".*<\/g>/s)!;
    expect(wide.split('\n')).toEqual([
      '<circle class="rim" r="0"/>',
      '<g transform="translate(0 0)"><rect x="-20" y="-15" width="40" height="30" transform="rotate(30)"/><path d="M-3 0H3M0 -3V3"/><text y="8.4">1</text></g>',
    ]);
  });
});

describe('the list of positions', () => {
  it('has no line feed alone and no zero below zero', () => {
    expect(positionsCsv([{ xMm: -1e-9, yMm: 2, angleDeg: 90 }])).toBe(
      'place,x_mm,y_mm,angle_deg\r\n1,0.0000,2.0000,90\r\n',
    );
  });

  it('has a line for every place that reads back to a micrometre', () => {
    const lines = positionsCsv(positions).trimEnd().split('\r\n');
    expect(lines[0]).toBe('place,x_mm,y_mm,angle_deg');
    expect(lines.length).toBe(positions.length + 1);
    positions.forEach((place, index) => {
      const [number, x, y] = lines[index + 1]!.split(',').map(Number);
      expect(number).toBe(index + 1);
      expect(x).toBeCloseTo(place.xMm, 3);
      expect(y).toBeCloseTo(place.yMm, 3);
    });
  });
});

describe('the holder ring', () => {
  it('adds play and wall to the lens and takes the ledge from its opening', () => {
    expect(holderRing(32, { playMm: 0.1, ledgeMm: 0.5, wallMm: 1 })).toEqual({
      openingMm: 31,
      seatMm: 32.2,
      outerMm: 34.2,
    });
  });

  it('must not cover the clear aperture', () => {
    expect(() => holderRing(32, { playMm: 0.1, ledgeMm: 2, wallMm: 1 }, 30)).toThrow(
      'clearApertureMm: 30 mm is above 28 mm',
    );
  });
});
