"""Things to print, each a Document that `page.document.write` puts on disk; `python -m jetlib.paper` prints them."""
