// Small pictures beside words. None stands alone: each is hidden from readers that speak.

const paths = {
  holds: "M3.5 10.5l4.500 4.500 8.500-10",
  tight: "M2.500 8c2.500-4 5-4 7.500 0s5 4 7.500 0M2.500 13.500c2.500-4 5-4 7.500 0s5 4 7.500 0",
  "does not hold": "M4.500 4.500l11 11M15.500 4.500l-11 11",
  "cannot be planned": "M10 3v9M10 15.500v1.500",
  close: "M5 5l10 10M15 5L5 15",
  away: "M4 4l12 12M3 9a10 10 0 0 1 3.500-2.200M17 9a10 10 0 0 0-6-2.900M6 12.500a6 6 0 0 1 2.500-1.600M10 16.500v.5",
  back: "M12.500 4.500L7 10l5.500 5.500",
  left: "M4 9a6.500 4 0 1 0 6-5M4 9l-1-4.500M4 9l4-1.500",
  right: "M16 9a6.500 4 0 1 1-6-5M16 9l1-4.500M16 9l-4-1.500",
  closer: "M10 4.500v11M4.500 10h11",
  farther: "M4.500 10h11",
  save: "M4 3.500h9.500L16.500 6.500v10h-13v-13zM7 3.500v4h5.500v-4M6.500 16.500v-5h7v5",
  paper: "M5 2.500h7l3.500 3.500v11.500h-10.500zM12 2.500v3.500h3.500M7.500 10h5M7.500 13h5",
  past: "M4 6a7 7 0 1 1-1 4.500M4 2.500v3.500h3.500M10 6.500v4l2.500 1.500",
  undo: "M7 4L3.500 7.500 7 11M3.500 7.500h8a4.500 4.500 0 0 1 0 9h-4",
  redo: "M13 4l3.500 3.500L13 11M16.500 7.500h-8a4.500 4.500 0 0 0 0 9h4",
  next: "M7.500 4.500L13 10l-5.500 5.500",
  play: "M6 4l9.500 6L6 16z",
  pause: "M6.500 4.500v11M13.500 4.500v11",
  open: "M5 8l5 5 5-5",
  up: "M5 12l5-5 5 5",
  shut: "M8 5l5 5-5 5",
} as const;

export type IconName = keyof typeof paths;

export function Icon({ name }: { name: IconName }) {
  return (
    <svg class="icon" viewBox="0 0 20 20" aria-hidden="true" focusable="false">
      <path d={paths[name]} />
    </svg>
  );
}
