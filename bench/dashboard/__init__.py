"""The full-screen dashboard."""
