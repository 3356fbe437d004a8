// What the knitting page can do besides where the browser can: keep the screen on, read aloud.
"use strict";
(() => {
  const helps = document.getElementById("knit-helps");
  const offer = (id, there, act) => {
    const button = document.getElementById(id);
    if (!there) return;
    helps.hidden = button.hidden = false;
    button.addEventListener("click", () => act(button));
  };
  const pressed = (button, on) => button.setAttribute("aria-pressed", String(on));

  let lock = null;
  let wanted = false;
  const keepAwake = async () => {
    if (wanted && !lock && document.visibilityState === "visible") {
      lock = await navigator.wakeLock.request("screen");
      lock.addEventListener("release", () => (lock = null));
    }
  };
  offer("keep-awake", "wakeLock" in navigator, async (button) => {
    wanted = !wanted;
    if (!wanted && lock) await lock.release();
    try {
      await keepAwake();
    } catch {
      wanted = false; // the battery is low, or the browser does not allow it
    }
    pressed(button, wanted);
  });
  // A lock ends whenever the page is hidden.
  document.addEventListener("visibilitychange", () => keepAwake().catch(() => {}));

  let aloud = false;
  const read = () => {
    const row = document.querySelector("#knit-row [role=status]");
    if (!aloud || !row) return;
    const words = new SpeechSynthesisUtterance(row.innerText);
    words.lang = document.documentElement.lang;
    speechSynthesis.cancel();
    speechSynthesis.speak(words);
  };
  offer("read-aloud", "speechSynthesis" in window, (button) => {
    aloud = !aloud;
    pressed(button, aloud);
    if (aloud) read();
    else speechSynthesis.cancel();
  });
  document.body.addEventListener("htmx:afterSettle", read);
})();
