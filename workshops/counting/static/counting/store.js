// The tablet's own memory (IndexedDB): a tap is in here before it is on the screen, and stays
// until long after the server has it. One tablet has one number sequence in each shop.

import {newKey} from "./outbox.js";

const OLD = 14 * 24 * 60 * 60 * 1000;  // shared taps are kept this long, to be taken back

function finished(transaction) {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onerror = transaction.onabort = () => reject(transaction.error);
  });
}

function got(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

function opened() {
  const request = indexedDB.open("winterbench-tally", 1);
  request.onupgradeneeded = () => {
    request.result.createObjectStore("tablets", {keyPath: "shop"});
    request.result.createObjectStore("taps", {keyPath: "key"}).createIndex("shop", "shop");
    request.result.createObjectStore("totals", {keyPath: "night"});
  };
  return got(request);
}

export async function openStore(shop) {
  const database = await opened();

  function fresh() { return {shop, key: newKey(), name: "", next: 1}; }

  return {
    // The tablet of this browser in this shop, made at its first visit.
    async tablet() {
      const writing = database.transaction("tablets", "readwrite");
      const found = await got(writing.objectStore("tablets").get(shop)) || fresh();
      writing.objectStore("tablets").put(found);
      await finished(writing);
      return found;
    },

    async rename(name) {
      const writing = database.transaction("tablets", "readwrite");
      const found = await got(writing.objectStore("tablets").get(shop));
      writing.objectStore("tablets").put({...found, name});
      await finished(writing);
    },

    // make(nextNumber) gives the records to keep. Numbers are given out in here, where two
    // windows of one tablet come one after the other.
    async add(make) {
      const writing = database.transaction(["tablets", "taps"], "readwrite");
      const tablet = await got(writing.objectStore("tablets").get(shop));
      const records = make(() => tablet.next++);
      records.forEach((record) => writing.objectStore("taps").put({...record, shop}));
      writing.objectStore("tablets").put(tablet);
      await finished(writing);
      return records;
    },

    async put(records) {
      if (!records.length) { return; }
      const writing = database.transaction("taps", "readwrite");
      records.forEach((record) => writing.objectStore("taps").put({...record, shop}));
      await finished(writing);
    },

    // Every tap that waits or was shared lately; older shared ones are dropped.
    async taps() {
      const writing = database.transaction("taps", "readwrite");
      const taps = writing.objectStore("taps");
      const all = await got(taps.index("shop").getAll(shop));
      const isOld = (tap) => tap.state === "shared" && Date.now() - Date.parse(tap.at) > OLD;
      all.filter(isOld).forEach((tap) => taps.delete(tap.key));
      await finished(writing);
      return all.filter((tap) => !isOld(tap));
    },

    async totals(night) {
      const reading = database.transaction("totals").objectStore("totals");
      return got(reading.get(shop + " " + night));
    },

    async keepTotals(night, totals, own) {
      const writing = database.transaction("totals", "readwrite");
      writing.objectStore("totals").put({night: shop + " " + night, totals, own});
      await finished(writing);
    },
  };
}
