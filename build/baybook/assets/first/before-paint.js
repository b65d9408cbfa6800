// Runs before the page is painted: the light and the units that the reader chose. The one global
// of the book begins here.
window.baybook = {};
if (location.protocol !== "file:") {
  // Only a page from a folder needs workers from Blobs; the policy of the page gets narrower.
  const policy = document.createElement("meta");
  policy.httpEquiv = "Content-Security-Policy";
  policy.content = "worker-src 'self'";
  document.head.append(policy);
}
document.documentElement.classList.replace("no-js", "js");
try {
  const scheme = localStorage.getItem("baybook.scheme");
  if (scheme) document.documentElement.dataset.scheme = scheme;
  document.documentElement.dataset.units = localStorage.getItem("baybook.units") || "us";
} catch {
  // Nothing is remembered here.
}
