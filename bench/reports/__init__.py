"""Documents made from the answers of use cases: text, CSV, JSON, HTML."""
