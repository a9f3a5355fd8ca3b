// The page's own script: sends the pattern with what is chosen, and shows what comes back.
// It keeps nothing: no cookie, no storage, no other address.

const WAIT = 220; // milliseconds after the last key
const LARGEST = 25_000_000; // bytes, as the server has it
const WIDE = matchMedia("(min-width: 72rem)");

const find = (id) => document.getElementById(id);
const form = find("draft");
const text = find("text");
const output = find("output");
const intro = output.innerHTML;

let chosen = null; // the file, if one was chosen or dropped
let asked = null; // the request under way
let timer = 0;

function sent() {
  const data = new FormData(form);
  data.delete("file");
  if (chosen) {
    data.delete("text");
    data.set("file", chosen, chosen.name);
  }
  return data;
}

function say(words) {
  const status = find("status");
  if (status.textContent !== words) status.textContent = words;
}

function problem(detail) {
  const box = document.createElement("div");
  box.className = "problem";
  const head = document.createElement("h2");
  head.textContent = "That did not work";
  const words = document.createElement("p");
  const begins = /^[^:]*\.\w+: /.test(detail) ? detail[0] : detail.charAt(0).toUpperCase(); // a file keeps its name
  words.textContent = begins + detail.slice(1) + (/[.?!]$/.test(detail) ? "" : ".");
  box.append(head, words);
  say(words.textContent);
  return box;
}

async function told(answer) {
  try {
    return (await answer.json()).detail;
  } catch {
    return "the server gave no answer that can be read";
  }
}

const GONE = "slopewise no longer runs; start it again in the terminal (slopewise serve) and reload this page";

async function ask(path, signal) {
  try {
    return await fetch(path, { method: "POST", body: sent(), signal });
  } catch (error) {
    if (error.name === "AbortError") return null;
    return Response.json({ detail: GONE }, { status: 503 });
  }
}

async function update() {
  clearTimeout(timer);
  asked?.abort();
  find("clear").hidden = chosen || !text.value;
  if (!chosen && !text.value.trim()) {
    output.innerHTML = intro;
    output.removeAttribute("aria-busy");
    say("");
    return;
  }
  asked = new AbortController();
  const { signal } = asked;
  output.setAttribute("aria-busy", "true");
  const answer = await ask("/result", signal);
  if (!answer) return; // a newer request is under way
  let body;
  try {
    body = answer.ok ? await answer.text() : problem(await told(answer));
  } catch (error) {
    if (error.name === "AbortError") return; // a newer one began while this one was read
    body = problem(GONE);
  }
  const tall = find("picture")?.offsetHeight;
  show(body);
  draw(tall, signal);
}

// The picture of the chart comes behind the words; the room of the one before it is kept for it.
async function draw(tall, signal) {
  const place = find("picture");
  if (!place) return;
  if (tall) place.style.minHeight = `${tall}px`;
  place.setAttribute("aria-busy", "true");
  const answer = await ask("/picture", signal);
  if (!answer) return; // a newer request is under way
  try {
    if (answer.ok) place.innerHTML = await answer.text();
    else place.replaceChildren(problem(await told(answer)));
  } catch (error) {
    if (error.name === "AbortError") return;
    place.replaceChildren(problem(GONE));
  }
  place.style.minHeight = "";
  place.removeAttribute("aria-busy");
}

// Put the result in place; whoever was in it with the keyboard stays where they were.
function show(body) {
  const inside = output.contains(document.activeElement);
  const id = inside ? document.activeElement.id : "";
  const group = inside ? document.activeElement.name : "";
  if (typeof body === "string") {
    output.innerHTML = body;
    const problem = output.querySelector(".problem");
    say((problem ?? find("summary")).textContent);
  } else {
    output.replaceChildren(body);
  }
  output.removeAttribute("aria-busy");
  if (!inside) return;
  const same = (id && find(id)?.name === group && find(id)) || find("summary");
  same?.focus({ preventScroll: same.id !== "summary" });
}

function soon() {
  clearTimeout(timer);
  output.setAttribute("aria-busy", "true"); // what is shown is no longer of this text
  timer = setTimeout(update, WAIT);
}

function take(file) {
  if (file && file.size > LARGEST) {
    show(problem(`${file.name}: larger than ${LARGEST / 1_000_000} MB; split it`));
    return;
  }
  chosen = file;
  find("chip").hidden = !file;
  text.hidden = Boolean(file);
  if (file) {
    find("chip-name").textContent = file.name;
    find("chip-size").textContent = `${Math.max(1, Math.round(file.size / 1024))} KB`;
  } else {
    find("file").value = "";
  }
  return update();
}

// On a narrow screen the result stands below the choices: who asked for it by a button is taken there.
function bring() {
  if (!WIDE.matches && find("summary")) find("result").scrollIntoView({ block: "start" });
}

// A file may take some seconds: its button says so, and is not pressed twice.
async function prepared(button) {
  const words = button.textContent;
  button.setAttribute("aria-busy", "true");
  const late = setTimeout(() => { button.textContent = "Preparing …"; say("Preparing the file"); }, 600);
  try {
    return await ask(`/download/${button.dataset.download}`);
  } finally {
    clearTimeout(late);
    button.textContent = words;
    button.removeAttribute("aria-busy");
  }
}

async function download(button) {
  if (button.getAttribute("aria-busy") === "true") return;
  const answer = await prepared(button);
  if (!answer.ok) {
    button.closest(".take").after(problem(await told(answer)));
    return;
  }
  const named = /filename\*=UTF-8''(.+)$/.exec(answer.headers.get("content-disposition") ?? "");
  const link = document.createElement("a");
  link.href = URL.createObjectURL(await answer.blob());
  link.download = named ? decodeURIComponent(named[1]) : "pattern";
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  say(`Downloaded ${link.download}`);
}

async function copy(button) {
  const words = button.textContent;
  try {
    await navigator.clipboard.writeText(find("copy-text").value);
    button.textContent = "Copied";
    say("Copied");
  } catch {
    button.textContent = "Not allowed to copy";
  }
  setTimeout(() => { button.textContent = words; }, 1600);
}

// What goes together: shoulders in steps are sewn; only live ones can keep exactly the rows.
function agree() {
  const steps = form.elements.to.checked;
  for (const name of ["turn", "shoulders", "kinds"]) find(`choose-${name}`).disabled = steps;
  for (const name of ["respace", "markers", "spelling"]) form.elements[name].disabled = steps;
  form.elements.exact_live.disabled = steps || form.elements.shoulders.value === "sewn";
  for (const current of document.querySelectorAll("[data-current]")) {
    const radio = find(`choose-${current.dataset.current}`).querySelector("input:checked");
    current.textContent = radio.parentElement.querySelector("b").textContent;
  }
}

function fold() {
  for (const name of ["turn", "shoulders"]) find(`choose-${name}`).closest("details").open = WIDE.matches;
}

text.addEventListener("input", (event) => {
  // what is pasted is whole; what is typed is waited for
  if (event.inputType === "insertFromPaste" || event.inputType === "insertFromDrop") update();
  else soon();
});
form.addEventListener("submit", (event) => event.preventDefault());
document.addEventListener("change", (event) => {
  const { target } = event;
  if (target === text || target.name === "view") return;
  if (target.id === "file") {
    take(target.files[0] ?? null)?.then(bring);
    return;
  }
  agree();
  update();
});
document.addEventListener("click", async (event) => {
  const button = event.target.closest("button");
  if (!button) return;
  if (button.dataset.download) await download(button);
  else if ("copy" in button.dataset) await copy(button);
  else if (button.dataset.forget) {
    form.elements[button.dataset.forget].remove();
    update();
  } else if (button.id === "sample") {
    text.value = await (await fetch("/sample")).text();
    await take(null);
    bring();
  } else if (button.id === "clear" || button.id === "unchoose") {
    text.value = "";
    take(null);
    text.focus();
  }
});

let over = 0;
const carries = (event) => event.dataTransfer?.types.includes("Files");
function drag(change) {
  over = Math.max(0, over + change);
  find("drop").hidden = !over;
}
addEventListener("dragenter", (event) => carries(event) && drag(1));
addEventListener("dragleave", (event) => carries(event) && drag(-1));
addEventListener("dragover", (event) => carries(event) && event.preventDefault());
addEventListener("drop", (event) => {
  if (!carries(event)) return;
  event.preventDefault();
  drag(-over);
  take(event.dataTransfer.files[0]);
});

WIDE.addEventListener("change", fold);
fold();
agree();
