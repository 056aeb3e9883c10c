"""The tables that are seen, each told once, a module a subject."""
