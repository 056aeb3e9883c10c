"""One table module a subject. Rows never leave this layer: use cases answer with frozen values."""
