"""One widget a module, its style sheet beside it. Widgets are handed values."""
