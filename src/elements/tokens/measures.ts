/** Spacing, type and line tokens: the same in every theme. Sizes are in rem, so that the reader's own size rules. */
export const MEASURES: Readonly<Record<string, string>> = {
  'space-1': '0.25rem',
  'space-2': '0.5rem',
  'space-3': '0.75rem',
  'space-4': '1rem',
  'space-5': '1.5rem',
  'space-6': '2.25rem',
  'space-7': '3.5rem',
  'font-text': "'Seravek', 'Gill Sans Nova', 'Ubuntu', 'Calibri', 'Open Sans', 'DejaVu Sans', sans-serif",
  'font-title':
    "'Iowan Old Style', 'Charter', 'Palatino Linotype', 'URW Palladio L', 'P052', 'DejaVu Serif', serif",
  'font-figure': "'Seravek', 'Gill Sans Nova', 'Ubuntu', 'Calibri', 'Open Sans', 'DejaVu Sans', sans-serif",
  'size-small': '0.8125rem',
  'size-text': '0.9375rem',
  'size-large': '1.125rem',
  'size-title': '1.5rem',
  'size-figure': '1.375rem',
  line: '1.45',
  radius: '2px',
  hairline: '1px',
  touch: '1.75rem',
};
