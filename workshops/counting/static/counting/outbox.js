// What a tablet holds and what follows from it. Pure: no page, no database, no network, so that
// every rule of it can be tried by itself.
//
// A tap is {key, number, night, at, state, tried} and one of
//   operation with good, hold, scrap      pieces counted
//   takesBack                             the key of an earlier tap that is taken back
//   neither                               taken back before it was ever sent: a number, no more
// state is "waiting" until the server has it, then "shared". tried says that it was sent at
// least once: the server may have it although no answer came. back says that it counts no more.

import {newKey} from "../common/key.js";

export const KINDS = ["good", "hold", "scrap"];
export const MOST = 100;  // taps in one batch: a short one survives a bad network

export {newKey};

export function pieces(tap) {
  return KINDS.reduce((sum, kind) => sum + (tap[kind] || 0), 0);
}

export function newTap(number, night, operation, counted, at) {
  const tap = {key: newKey(), number, night, at, operation, state: "waiting", tried: false};
  KINDS.forEach((kind) => { tap[kind] = counted[kind] || 0; });
  return tap;
}

// The records that change when a tap is taken back. Never sent, it becomes a number of nothing;
// once sent, another tap takes it back, because its answer may only have been lost.
export function takenBack(tap, nextNumber, at) {
  if (tap.state === "waiting" && !tap.tried) {
    return [{...tap, operation: null, good: 0, hold: 0, scrap: 0, back: true}];
  }
  const taking = {key: newKey(), number: nextNumber(), night: tap.night, at,
    takesBack: tap.key, state: "waiting", tried: false};
  return [{...tap, back: true}, taking];
}

export function waiting(taps) {
  return taps.filter((tap) => tap.state === "waiting").sort((a, b) => a.number - b.number);
}

// How many presses people are told of: what was pressed and taken back at once is none.
export function unshared(taps) {
  return waiting(taps).filter((tap) => tap.takesBack || (pieces(tap) && !tap.back)).length;
}

// The earliest taps that wait, all of one night: an address is of one night.
export function nextBatch(taps) {
  const all = waiting(taps);
  return all.filter((tap) => tap.night === all[0].night).slice(0, MOST);
}

export function asSent(tap) {
  const {number, key, at} = tap;
  if (tap.takesBack) { return {number, key, at, takes_back: tap.takesBack}; }
  if (!tap.operation) { return {number, key, at}; }
  return {number, key, at, operation: tap.operation,
    good: tap.good, hold: tap.hold, scrap: tap.scrap};
}

// Pieces that wait and are not in this batch, by operation: what would be lost with the tablet.
export function leftOut(taps, batch) {
  const sent = new Set(batch.map((tap) => tap.key));
  const left = {};
  waiting(taps).forEach((tap) => {
    if (tap.operation && !tap.back && !sent.has(tap.key)) {
      left[tap.operation] = (left[tap.operation] || 0) + pieces(tap);
    }
  });
  return left;
}

// The records that change with the server's answer.
export function heard(taps, answer) {
  const shared = new Set(answer.shared);
  const gone = new Set(answer.gone);
  const refusedBack = new Set(
    taps.filter((tap) => tap.takesBack && answer.said[tap.key]).map((tap) => tap.takesBack));
  const changed = [];
  taps.forEach((tap) => {
    const now = {...tap};
    if (shared.has(tap.key)) { now.state = "shared"; }
    if (answer.said[tap.key]) { now.says = answer.said[tap.key]; }
    if (gone.has(tap.key)) { now.back = true; }
    if (refusedBack.has(tap.key)) { now.back = false; }
    if (now.state !== tap.state || now.says !== tap.says || now.back !== tap.back) {
      changed.push(now);
    }
  });
  return changed;
}

// Operation -> what its row shows: the server's last word and what it has not heard of yet.
export function countsOf(taps, night, totals, own) {
  const counts = {};
  const of = (operation) => {
    if (!counts[operation]) {
      const [good, hold, scrap] = totals[operation] || [0, 0, 0];
      counts[operation] = {good, hold, scrap, waiting: 0,
        own: (own[operation] || []).reduce((sum, number) => sum + number, 0)};
    }
    return counts[operation];
  };
  const add = (tap, sign) => {
    const row = of(tap.operation);
    KINDS.forEach((kind) => { row[kind] += sign * tap[kind]; });
    row.own += sign * pieces(tap);
    row.waiting += 1;
  };
  Object.keys(totals).forEach(of);
  const byKey = new Map(taps.map((tap) => [tap.key, tap]));
  taps.filter((tap) => tap.state === "waiting" && tap.night === night).forEach((tap) => {
    const target = tap.takesBack && byKey.get(tap.takesBack);
    if (tap.operation && !tap.back) { add(tap, 1); }
    if (target && target.state === "shared" && target.operation) { add(target, -1); }
  });
  return counts;
}
