"""Values into cells and text: pure functions, nothing fetched."""
