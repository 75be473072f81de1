// Calls of the bench cards, and of the door that phones come in by.

import { call } from "./client";
import type { components } from "./schema";
import type { WorkEvent } from "./types";

type Schemas = components["schemas"];
export type CardsAnswer = Schemas["CardsAnswer"];
export type Card = Schemas["Card"];
export type CardTimer = Schemas["Timer"];
export type CardShelf = Schemas["CardShelf"];
export type WorkClash = Schemas["WorkClash"];
export type PhoneState = Schemas["PhoneState"];
export type PhoneCode = Schemas["PhoneCode"];

const cardsPath = (id: string) => `/api/pieces/${encodeURIComponent(id)}/cards`;

export const listCards = () => call<CardShelf>("GET", "/api/cards");
export const showCards = (id: string, now: string) =>
  call<CardsAnswer>("GET", `${cardsPath(id)}?now=${encodeURIComponent(now)}`);
export const tickCards = (id: string, events: WorkEvent[], now: string, version: number) =>
  call<CardsAnswer>("POST", cardsPath(id), { events, now, version });
export const carryAddress = (id: string, now: string) =>
  `${cardsPath(id)}.html?now=${encodeURIComponent(now)}`;

export const showPhones = () => call<PhoneState>("GET", "/api/phones");
export const openToPhones = (open: boolean) => call<PhoneState>("PUT", "/api/phones", { open });
export const makePhoneCode = (piece: string, address: string) =>
  call<PhoneCode>("POST", "/api/phones/code", { piece, address });
export const joinPhone = (code: string) => call<{ name: string }>("POST", "/api/phones/join", { code });
export const revokePhone = (id: string) =>
  call<PhoneState>("DELETE", `/api/phones/${encodeURIComponent(id)}`);
