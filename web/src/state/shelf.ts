// What the shelf shows.

import { signal } from "@preact/signals";
import type { Pattern, Shelf } from "../api/types";

export const shelf = signal<Shelf | null>(null);
export const patterns = signal<Pattern[] | null>(null);
