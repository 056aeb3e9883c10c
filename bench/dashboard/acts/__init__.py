"""All that a person can do by key, as values by subject: keys, bars, help, palette and menus come from it."""
