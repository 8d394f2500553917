"use strict";
// Around textual.js, which draws the board: where its board is, whether it still answers, and what to do if not.

(() => {
  const STOPPED = 1001, LEFT = 4000, TOO_MANY = 4001, FAILED = 4002, SIGNED_OUT = 4003, ELSEWHERE = 4004;
  const ALIVE_EVERY = 4000, LOST_AFTER = 12000, AGAIN_EVERY = 3000; // milliseconds
  const KEPT = "What the board said is recorded is recorded.";
  const ROW = 24; // pixels, a line and a little
  const SAYS = {
    [STOPPED]: ["The board was stopped on its machine",
      `${KEPT} What was being typed is lost: enter it again. The board opens by itself once it is started.`],
    [LEFT]: ["The board was left", KEPT],
    [TOO_MANY]: ["Too many boards are open", ""],
    [FAILED]: ["The board cannot go on", ""],
    [ELSEWHERE]: ["The board is open on another page", ""],
  };
  const LOST = ["The board cannot be reached",
    `${KEPT} What was being typed is kept for three minutes. The board opens by itself once it answers.`];
  const BY_ITSELF = new Set([STOPPED, 1006, 1011, 1012]);

  let heard = Date.now(), over = false, itself = false, trying = false;

  // The same tab finds its board again as it was; another tab has another board.
  function tab() {
    let name = sessionStorage.getItem("tab");
    if (!name) {
      const chance = crypto.getRandomValues(new Uint8Array(16));
      name = Array.from(chance, (byte) => byte.toString(16).padStart(2, "0")).join("");
      sessionStorage.setItem("tab", name);
    }
    return name;
  }

  function show([what, why]) {
    over = true;
    document.getElementById("what").textContent = what;
    document.getElementById("why").textContent = why;
    document.getElementById("over").hidden = false;
    document.getElementById("again").focus();
    document.getElementById("leave").hidden = itself;
    if (itself) setInterval(tryAgain, AGAIN_EVERY);
  }

  async function tryAgain() {
    if (trying) return;
    trying = true;
    const patience = new AbortController();
    const end = setTimeout(() => patience.abort(), ALIVE_EVERY);
    try {
      const answer = await fetch("/alive", { cache: "no-store", signal: patience.signal });
      if (answer.ok || answer.status === 401) location.reload(); // where nobody is signed in, it asks
    } catch { /* not yet */ }
    clearTimeout(end);
    trying = false;
  }

  function closed(code, reason) {
    if (over) return;
    if (code === SIGNED_OUT) return location.reload();
    const [what, why] = SAYS[code] || LOST;
    itself = BY_ITSELF.has(code) || !SAYS[code];
    show([what, reason || why]);
    if (itself && code !== STOPPED) tryAgain(); // one that stops still answers for a moment
  }

  window.open = () => null; // an address in a note is text and leads nowhere

  window.WebSocket = class extends WebSocket {
    constructor(address) {
      super(`${address}&tab=${tab()}`);
      this.addEventListener("open", () => document.querySelector(".xterm-helper-textarea").focus());
      this.addEventListener("message", () => { heard = Date.now(); });
      this.addEventListener("close", (event) => closed(event.code, event.reason));
      const beat = setInterval(() => {
        if (this.readyState === WebSocket.OPEN) this.send(JSON.stringify(["alive"]));
        if (Date.now() - heard > LOST_AFTER) {
          clearInterval(beat);
          this.close();
          closed(1006, "");
        }
      }, ALIVE_EVERY);
    }
  };

  // A finger that is drawn over a list turns the wheel of a mouse there.
  function turnByFinger(terminal) {
    let from = 0;
    terminal.addEventListener("touchstart", (event) => { from = event.touches[0].clientY; }, { passive: true });
    terminal.addEventListener("touchmove", (event) => {
      const { clientX, clientY, target } = event.touches[0], deltaY = from - clientY;
      if (event.touches.length > 1 || Math.abs(deltaY) < ROW) return;
      from = clientY;
      target.dispatchEvent(new WheelEvent("wheel", { deltaY, clientX, clientY, bubbles: true, cancelable: true }));
    }, { passive: true });
  }

  // Where a keyboard on the screen covers the page, the board keeps to what is left.
  function keepInSight() {
    const { height, scale } = window.visualViewport;
    document.getElementById("terminal").style.height = `${Math.floor(height * scale)}px`;
    window.dispatchEvent(new Event("resize"));
  }

  const begin = window.onload; // textual.js measures letters: their font comes first
  window.onload = null;
  document.addEventListener("DOMContentLoaded", async () => {
    document.getElementById("again").addEventListener("click", () => itself ? tryAgain() : location.reload());
    turnByFinger(document.getElementById("terminal"));
    const scheme = location.protocol === "https:" ? "wss:" : "ws:";
    document.getElementById("terminal").dataset.sessionWebsocketUrl = `${scheme}//${location.host}/ws`;
    await document.fonts.load('16px "Roboto Mono"').catch(() => {});
    heard = Date.now();
    begin();
    window.visualViewport.addEventListener("resize", keepInSight);
  });
})();
