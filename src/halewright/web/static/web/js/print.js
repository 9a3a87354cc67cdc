// Shows the print button where there is a script to serve it.
(() => {
  const button = document.getElementById("print");
  if (!button) return;
  button.hidden = false;
  button.addEventListener("click", () => window.print());
})();
