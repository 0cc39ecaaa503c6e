/** One axis as it stands on the screen: its ticks and where a value lies. */
export interface FrameAxis {
  readonly title: string;
  readonly ticks: readonly { readonly at: number; readonly text: string }[];
  /** Picture coordinate in CSS pixels of a value. */
  readonly place: (value: number) => number;
}

/** The chart's frame in CSS pixels, independent of what draws it. */
export interface ChartFrame {
  readonly width: number;
  readonly height: number;
  readonly area: {
    readonly left: number;
    readonly right: number;
    readonly top: number;
    readonly bottom: number;
  };
  readonly x: FrameAxis;
  readonly y: FrameAxis;
}
