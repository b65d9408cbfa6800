// Keeps the browser's own Worker, before the search's stand-in for pages from a folder replaces it.
// The one global of the book begins here.
window.baybook = { Worker: window.Worker };
