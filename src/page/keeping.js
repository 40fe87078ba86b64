// What the browser keeps between two openings: a buffer, never the record. A probe is written and read first; where nothing is kept, the page
// says so and goes on.

const keeping = {works: false, database: null};

function opened() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open("holdfast-page", 1);
    request.onupgradeneeded = () => request.result.createObjectStore("kept");
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

function transact(mode, work) {
  return new Promise((resolve, reject) => {
    const transaction = keeping.database.transaction("kept", mode), request = work(transaction.objectStore("kept"));
    transaction.oncomplete = () => resolve(request.result);
    transaction.onerror = transaction.onabort = () => reject(transaction.error);
  });
}

async function startKeeping() {
  try {
    keeping.database = await opened();
    const probe = String(Date.now());
    await transact("readwrite", store => store.put(probe, "probe"));
    keeping.works = (await transact("readonly", store => store.get("probe"))) === probe;
  } catch (error) {
    keeping.works = false;
  }
}

async function keepAs(key, value) {
  if (!keeping.works) return;
  try {
    await transact("readwrite", store => store.put(value, key));
  } catch (error) {
    keeping.works = false;
    tellKeeping();
  }
}

function kept(key) {
  return keeping.works ? transact("readonly", store => store.get(key)).catch(() => undefined) : Promise.resolve(undefined);
}

function keep() {
  return keepAs("campaign", {...campaign});
}

addEventListener("beforeunload", event => {
  if (!keeping.works && !campaign.saved) event.preventDefault();
});
