"""The commands, one module a subject. Each parses, calls one use case and prints what happened."""
