"""The manual: a page a subject, each a Markdown file beside this one, and what reads and sets them."""
