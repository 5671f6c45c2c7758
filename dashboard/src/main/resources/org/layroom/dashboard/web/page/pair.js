// The one screen for a device that is not let in yet: a code and a name, and what came of them.
const form = document.getElementById("pair");
const said = document.getElementById("said");
const button = form.querySelector("button");

document.getElementById("plain").hidden = location.protocol === "https:";
document.getElementById("code").focus();

function words(body) {
  const reasons = (body.errors ?? []).map((error) => `${error.reason.charAt(0).toUpperCase()}${error.reason.slice(1)}.`);
  return reasons.length > 0 ? reasons.join(" ") : (body.title ?? "Layroom is not answering.");
}

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  button.disabled = true;
  said.textContent = "";
  try {
    const response = await fetch("api/pair", {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ code: form.code.value, name: form.name.value }),
    });
    if (response.ok) {
      location.replace("./");
      return;
    }
    said.textContent = words(await response.json().catch(() => ({})));
  } catch {
    said.textContent = "Layroom is not answering. Is it running, and is this device on the shop's network?";
  }
  button.disabled = false;
  form.code.focus();
});
