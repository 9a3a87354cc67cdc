// Follows the planning without loading the page anew; without script the page refreshes itself.
(() => {
  const place = document.getElementById("planning");
  const share = document.getElementById("share");
  const words = document.getElementById("words");
  const look = async () => {
    try {
      const answer = await fetch(place.dataset.state, { headers: { Accept: "application/json" } });
      const state = await answer.json();
      share.value = state.percent;
      if (words.textContent !== state.words) words.textContent = state.words;
      if (!state.running) {
        location.reload();
        return;
      }
    } catch {
      words.textContent = "No answer just now. Trying again.";
    }
    setTimeout(look, 1000);
  };
  setTimeout(look, 500);
})();
