"""Dialogs: each asks one thing, runs its own use case, and says what is wrong without losing the typing."""
