"""The dashboard in a browser, by textual-serve: who may come in; pages that load nothing from elsewhere."""
